//! Group codes and their values, a line each: all that a DXF file is made of.

use std::fmt::{Display, Write};

use super::DxfVersion;

/// A name by which an entry of the file is known in it: R2000 wants one for each.
pub(super) type Handle = u32;

/// A file, or a part of one, being written.
pub(super) struct Pairs {
    written: String,
    pub(super) version: DxfVersion,
    /// The first handle that is free.
    pub(super) free: Handle,
}

impl Pairs {
    /// Nothing yet; handles are given out from `free` on.
    pub(super) fn new(version: DxfVersion, free: Handle) -> Self {
        Self {
            written: String::new(),
            version,
            free,
        }
    }

    pub(super) fn into_string(self) -> String {
        self.written
    }

    /// A name or a whole number, as it is.
    pub(super) fn put(&mut self, code: u16, value: impl Display) {
        // Writing to a string does not fail.
        let _ = write!(self.written, "{code:>3}\r\n{value}\r\n");
    }

    /// Words of people.
    pub(super) fn words(&mut self, code: u16, words: &str) {
        self.put(code, plain(words));
    }

    /// A number in as many digits as it takes to read back the same one. Less than a millionth of a millionth is zero.
    pub(super) fn real(&mut self, code: u16, value: f64) {
        let value = if value.abs() < 1e-12 { 0.0 } else { value };
        let point = if value.fract() == 0.0 { ".0" } else { "" };
        self.put(code, format_args!("{value}{point}"));
    }

    /// A point in the plane: its x under this code, its y under the one ten higher.
    pub(super) fn flat(&mut self, code: u16, at: [f64; 2]) {
        self.real(code, at[0]);
        self.real(code + 10, at[1]);
    }

    /// A point of the plane in space.
    pub(super) fn point(&mut self, code: u16, at: [f64; 2]) {
        self.flat(code, at);
        self.real(code + 20, 0.0);
    }

    /// What class the codes belong to that follow; R2000 only.
    pub(super) fn class(&mut self, class: &str) {
        if self.version == DxfVersion::R2000 {
            self.put(100, class);
        }
    }

    /// A handle that nothing has yet.
    pub(super) fn take(&mut self) -> Handle {
        self.free += 1;
        self.free - 1
    }

    /// A handle of its own and its owner's; R2000 only.
    pub(super) fn owned(&mut self, owner: Handle) -> Handle {
        let own = self.take();
        self.known(5, own, owner);
        own
    }

    /// A handle that was chosen before, under its code, and its owner's; R2000 only.
    pub(super) fn known(&mut self, code: u16, own: Handle, owner: Handle) {
        if self.version == DxfVersion::R2000 {
            self.handle(code, own);
            self.handle(330, owner);
        }
    }

    pub(super) fn handle(&mut self, code: u16, handle: Handle) {
        self.put(code, format_args!("{handle:X}"));
    }

    /// A section with what `inside` writes.
    pub(super) fn section(&mut self, name: &str, inside: impl FnOnce(&mut Self)) {
        self.put(0, "SECTION");
        self.put(2, name);
        inside(self);
        self.put(0, "ENDSEC");
    }
}

/// Words in the characters that every reader knows, and nothing that would be taken for a control.
fn plain(words: &str) -> String {
    words.replace("%%", "% %").chars().map(letter).collect()
}

/// A character as it is written: what the trade uses in plain ones, others by their number, which R12 has no word for but readers know.
fn letter(c: char) -> String {
    let plain = match c {
        '^' => "^ ",
        '°' => "%%d",
        'ø' | 'Ø' | '⌀' => "%%c",
        '±' => "%%p",
        '¼' => "1/4",
        '½' => "1/2",
        '¾' => "3/4",
        '×' => "x",
        '≈' => "~",
        '–' | '—' | '−' => "-",
        '‘' | '’' | '′' => "'",
        '“' | '”' | '″' => "\"",
        '…' => "...",
        ' '..='~' => return c.to_string(),
        c if c.is_control() => " ",
        c if u32::from(c) <= 0xFFFF => return format!("\\U+{:04X}", u32::from(c)),
        _ => "?",
    };
    plain.to_owned()
}
