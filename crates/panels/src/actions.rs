//! Everything a menu entry or key can do: one list gives text, tooltip and shortcut.

use egui::{Key, KeyboardShortcut, Modifiers};
use rearend::findings::Lit;
use shop::Command;

/// What the user did, for the application to carry out.
#[derive(Clone, Debug, PartialEq)]
pub enum Act {
    /// Something of the bench.
    Do(Command),
    /// A menu entry or key.
    Choose(Action),
    /// Light something up, or nothing.
    Light(Lit),
    /// Show these strips besides those that are always there.
    Strips(Vec<crate::Quantity>),
    /// Draw the stage with this much detail (place in the list of levels).
    Quality(usize),
    /// A path was typed or picked for a purpose.
    Path(crate::PathPurpose, std::path::PathBuf),
    /// Ask the system's own file dialog for a path.
    Browse(crate::PathPurpose),
    /// Go on with what was held up by unsaved work, without saving.
    GoOnUnsaved,
    /// Save over a file that somebody else has written to.
    SaveOver,
    /// Take up what a crash has left behind, or throw it away.
    TakeUp(bool),
    /// Close the open dialog.
    CloseDialog,
    /// What the shop puts on its paper from now on.
    Shop(crate::ShopStyle),
    /// Call off what is being made.
    CallOff,
}

/// A menu entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// Begin a setup of one's own.
    New,
    /// Go on with a copy.
    Copy,
    /// Open a setup.
    Open,
    /// Save it.
    Save,
    /// Save it somewhere else.
    SaveAs,
    /// Leave.
    Quit,
    /// Take back.
    Undo,
    /// Do again.
    Redo,
    /// The tape sheet.
    TapeSheet,
    /// Heights and limits.
    Truck,
    /// How the axle stands as built.
    AsBuilt,
    /// Let what is free move.
    Swim,
    /// Centres and hinge axes.
    Centres,
    /// From behind.
    Rear,
    /// From the left.
    Side,
    /// From above.
    Top,
    /// From behind, left and above.
    Corner,
    /// With or without perspective.
    Perspective,
    /// Everything in view.
    Fit,
    /// Run the travel up and down.
    Play,
    /// Faint axles at laid out and full lift.
    Ghosts,
    /// Wheels on or off.
    Wheels,
    /// The body in outline, on or off.
    Body,
    /// The path of the axle's centre.
    Path,
    /// Light or dark.
    Theme,
    /// A picture for the customer.
    Picture,
    /// The truck laid out, at ride height and at full lift in one picture.
    PictureOfHeights,
    /// All that lies side by side in one picture.
    PictureBeside,
    /// The picture on the clipboard.
    CopyPicture,
    /// Dimension lines on pictures.
    PictureMeasures,
    /// The build sheet.
    Sheet,
    /// Brackets to be cut.
    Brackets,
    /// The sweep as a table.
    TravelTable,
    /// The figures of all side by side as a table.
    CompareTable,
    /// What the shop puts on its paper.
    Shop,
    /// Several setups side by side.
    Beside,
    /// A file's setup beside the open one.
    OpenBeside,
    /// The drawer of parts.
    Parts,
    /// Ways to hang the axle.
    Layouts,
    /// Measure between two places.
    Measure,
    /// Dimension lines of the selected mount.
    Dimensions,
    /// The guide.
    Guide,
    /// Larger words and controls.
    Larger,
    /// Smaller words and controls.
    Smaller,
    /// The list of keys.
    Keys,
    /// The cautions.
    Cautions,
}

impl Action {
    /// All of them, in the order of the list of keys.
    pub const ALL: [Self; 46] = [
        Self::New,
        Self::Copy,
        Self::Open,
        Self::Save,
        Self::SaveAs,
        Self::Picture,
        Self::PictureOfHeights,
        Self::PictureBeside,
        Self::CopyPicture,
        Self::PictureMeasures,
        Self::Sheet,
        Self::Brackets,
        Self::TravelTable,
        Self::CompareTable,
        Self::Shop,
        Self::Quit,
        Self::Undo,
        Self::Redo,
        Self::TapeSheet,
        Self::Layouts,
        Self::Parts,
        Self::Beside,
        Self::OpenBeside,
        Self::Truck,
        Self::AsBuilt,
        Self::Measure,
        Self::Dimensions,
        Self::Rear,
        Self::Side,
        Self::Top,
        Self::Corner,
        Self::Perspective,
        Self::Fit,
        Self::Play,
        Self::Ghosts,
        Self::Wheels,
        Self::Body,
        Self::Path,
        Self::Centres,
        Self::Swim,
        Self::Theme,
        Self::Larger,
        Self::Smaller,
        Self::Guide,
        Self::Keys,
        Self::Cautions,
    ];

    /// What the menu says.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::New => "New truck",
            Self::Copy => "Try something on a copy",
            Self::Open => "Open…",
            Self::Save => "Save",
            Self::SaveAs => "Save as…",
            Self::Quit => "Quit",
            Self::Undo => "Undo",
            Self::Redo => "Redo",
            Self::TapeSheet => "Tape sheet",
            Self::Truck => "Heights, limits, balance…",
            Self::AsBuilt => "Squareness and turns…",
            Self::Swim => "Let it swim where it is free",
            Self::Centres => "Centres and hinge axes",
            Self::Rear => "From behind",
            Self::Side => "From the side",
            Self::Top => "From above",
            Self::Corner => "From the corner",
            Self::Perspective => "Perspective",
            Self::Fit => "Everything in view",
            Self::Play => "Run the travel",
            Self::Ghosts => "Axle laid out and fully lifted",
            Self::Wheels => "Wheels",
            Self::Body => "Body in outline",
            Self::Path => "Path of the axle's centre",
            Self::Theme => "Light or dark",
            Self::Picture => "Picture…",
            Self::PictureOfHeights => "Picture of three heights…",
            Self::PictureBeside => "Picture of all side by side…",
            Self::CopyPicture => "Copy the picture",
            Self::PictureMeasures => "Dimension lines on pictures",
            Self::Sheet => "Build sheet…",
            Self::Brackets => "Brackets to cut…",
            Self::TravelTable => "Travel as a table…",
            Self::CompareTable => "Side by side as a table…",
            Self::Shop => "Shop's name, logo, paper…",
            Self::Beside => "Side by side",
            Self::OpenBeside => "Open beside this one…",
            Self::Parts => "Parts drawer",
            Self::Layouts => "Choose how it hangs…",
            Self::Measure => "Measure",
            Self::Dimensions => "Dimensions of the selected mount",
            Self::Guide => "Guide",
            Self::Larger => "Larger words",
            Self::Smaller => "Smaller words",
            Self::Keys => "Keys and mouse",
            Self::Cautions => "Cautions",
        }
    }

    /// What the tooltip says.
    #[must_use]
    pub fn tip(self) -> &'static str {
        match self {
            Self::New => "Begin a setup of your own with a usual truck and its tape sheet",
            Self::Copy => "Go on with a copy of this setup; its file stays as it was saved",
            Self::Open => "Open a setup from a file",
            Self::Save => "Save the setup to its file",
            Self::SaveAs => "Save the setup to another file",
            Self::Quit => "Leave; unsaved work is asked about first",
            Self::Undo => "Take the last step back; a whole drag is one step",
            Self::Redo => "Do again what was taken back",
            Self::TapeSheet => {
                "The truck's measurements in the order you take them, with a picture of where the tape goes"
            }
            Self::Truck => "How low, how high, what you allow, and where the weight is",
            Self::AsBuilt => "How square the axle stands at ride height, and what one turn of each adjuster does",
            Self::Swim => "Move the axle the way that no bar holds it",
            Self::Centres => "Show instant centre, roll centre, hinge axes, and which bars share or bind",
            Self::Rear => "Drag mounts sideways and up",
            Self::Side => "Drag mounts forward and up",
            Self::Top => "Drag mounts forward and sideways",
            Self::Corner => "See it as it stands",
            Self::Perspective => "With perspective, or with what is level drawn level",
            Self::Fit => "Move the eye so that the whole rear end is seen",
            Self::Play => "Lower and lift the truck by itself",
            Self::Ghosts => "Show the axle faintly at both ends of its travel",
            Self::Wheels => "Take the wheels off the picture to see behind them",
            Self::Body => "Show fender lips, bed and tubs as lines",
            Self::Path => "Draw the way of the axle's centre, sideways part enlarged",
            Self::Theme => "Switch between light and dark panels",
            Self::Picture => "A picture with name and figures, to show a customer",
            Self::PictureOfHeights => "Laid out, at ride height and fully lifted, next to each other",
            Self::PictureBeside => "Every setup that lies side by side, seen alike",
            Self::CopyPicture => "The picture as it would be saved, to be pasted into a message",
            Self::PictureMeasures => "Draw the few measures that a customer asks for on every picture",
            Self::Sheet => "A PDF to build from: drawings, cut list, mounts from a tape's datums, order of work",
            Self::Brackets => "Every bracket 1:1, as DXF for the plasma table and as paper templates",
            Self::TravelTable => "Everything that is plotted, a row for every height, as CSV",
            Self::CompareTable => "The figures of every setup that lies side by side, as CSV",
            Self::Shop => "What stands at the head of build sheets and pictures, and the size of paper",
            Self::OpenBeside => "Open a setup from a file beside the open one, to compare",
            Self::Beside => "Put several setups on this truck next to each other, and see which does what best",
            Self::Parts => "Every bar with its tube, ends and length; add, rename, remove",
            Self::Layouts => "Every way to hang an axle, with what it is good for and what it costs; the truck stays",
            Self::Measure => "Click two places: how far they are apart, straight and along the truck",
            Self::Dimensions => "Draw how far it is from the datums, and its bar from eye to eye",
            Self::Guide => "What every layout and every curve is, what is good, and what moves it",
            Self::Larger => "Make words and controls larger",
            Self::Smaller => "Make words and controls smaller",
            Self::Keys => "What every key and mouse button does",
            Self::Cautions => "What these numbers are, and what they are not",
        }
    }

    /// Its key.
    #[must_use]
    pub fn shortcut(self) -> Option<KeyboardShortcut> {
        let ctrl = |key| Some(KeyboardShortcut::new(Modifiers::COMMAND, key));
        let shifted = |key| Some(KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), key));
        let plain = |key| Some(KeyboardShortcut::new(Modifiers::NONE, key));
        match self {
            Self::New => ctrl(Key::N),
            Self::Copy => ctrl(Key::D),
            Self::Open => ctrl(Key::O),
            Self::Save => ctrl(Key::S),
            Self::SaveAs => shifted(Key::S),
            Self::Quit => ctrl(Key::Q),
            Self::Undo => ctrl(Key::Z),
            Self::Redo => ctrl(Key::Y),
            Self::TapeSheet => plain(Key::T),
            Self::Truck => ctrl(Key::T),
            Self::AsBuilt => ctrl(Key::B),
            Self::Swim => plain(Key::M),
            Self::Centres => plain(Key::H),
            Self::Rear => plain(Key::Num1),
            Self::Side => plain(Key::Num2),
            Self::Top => plain(Key::Num3),
            Self::Corner => plain(Key::Num4),
            Self::Perspective => plain(Key::P),
            Self::Fit => plain(Key::F),
            Self::Play => plain(Key::Space),
            Self::Ghosts => plain(Key::G),
            Self::Wheels => plain(Key::W),
            Self::Body => plain(Key::B),
            Self::Path => plain(Key::C),
            Self::Theme => plain(Key::L),
            Self::Picture => ctrl(Key::P),
            // Ctrl, Shift and C copy text.
            Self::CopyPicture => shifted(Key::I),
            Self::Sheet => shifted(Key::P),
            Self::Brackets => shifted(Key::B),
            Self::TravelTable => shifted(Key::T),
            Self::Beside => plain(Key::S),
            Self::Layouts => plain(Key::A),
            Self::Parts => plain(Key::R),
            Self::Measure => plain(Key::D),
            Self::Dimensions => plain(Key::K),
            Self::Larger => ctrl(Key::Plus),
            Self::Smaller => ctrl(Key::Minus),
            Self::Guide => plain(Key::F2),
            Self::Keys => plain(Key::F1),
            Self::PictureOfHeights
            | Self::PictureBeside
            | Self::PictureMeasures
            | Self::CompareTable
            | Self::OpenBeside
            | Self::Shop
            | Self::Cautions => None,
        }
    }

    /// What a tick beside the entry shows, for those that are on or off.
    #[must_use]
    pub fn is_switch(self) -> bool {
        matches!(
            self,
            Self::TapeSheet
                | Self::Parts
                | Self::Beside
                | Self::Measure
                | Self::Dimensions
                | Self::PictureMeasures
                | Self::Perspective
                | Self::Ghosts
                | Self::Wheels
                | Self::Body
                | Self::Path
                | Self::Play
                | Self::Swim
                | Self::Centres
        )
    }
}

/// The keys pressed in this frame, modifiers exactly as listed. While something is typed, keys without a modifier are letters, and undo is
/// the text's own; Space works whatever has the keyboard.
pub fn shortcuts(ctx: &egui::Context) -> Vec<Act> {
    let now = (ctx.text_edit_focused(), ctx.memory(|m| m.focused().is_some()));
    // In a slow frame all of `9 1/2` and Enter come at once, and what had the keyboard when they were struck has it no more.
    let key = egui::Id::new("who had the keyboard");
    let before = ctx.data_mut(|data| std::mem::replace(data.get_temp_mut_or_default::<(bool, bool)>(key), now));
    let (typing, focused) = (now.0 || before.0, now.1 || before.1);
    let is_taken = |action: Action, shortcut: KeyboardShortcut| match shortcut.logical_key {
        Key::Space => focused,
        Key::F1 | Key::F2 => false,
        _ if shortcut.modifiers.command => typing && matches!(action, Action::Undo | Action::Redo),
        _ => typing,
    };
    let is_struck = |action: &Action| {
        let Some(shortcut) = action.shortcut() else {
            return false;
        };
        !is_taken(*action, shortcut) && ctx.input_mut(|input| strike(input, shortcut))
    };
    Action::ALL.into_iter().filter(is_struck).map(Act::Choose).collect()
}

/// Takes a struck shortcut out of the input.
fn strike(input: &mut egui::InputState, shortcut: KeyboardShortcut) -> bool {
    let is_it = |event: &egui::Event| {
        let egui::Event::Key {
            key,
            pressed: true,
            modifiers,
            ..
        } = event
        else {
            return false;
        };
        // On many keyboards plus is the shifted equals sign, and either is meant.
        if shortcut.logical_key == Key::Plus {
            return matches!(key, Key::Plus | Key::Equals) && modifiers.command && !modifiers.alt;
        }
        *key == shortcut.logical_key && modifiers.matches_exact(shortcut.modifiers)
    };
    let before = input.events.len();
    input.events.retain(|event| !is_it(event));
    input.events.len() < before
}
