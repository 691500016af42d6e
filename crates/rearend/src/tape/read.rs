//! Reading a typed length: numbers, fractions, mixed numbers, units, and the four operations.

use super::{INCH_M, TapeError};

/// A typed length in metres; a bare number counts `bare_m` metres each.
pub(super) fn length_m(text: &str, bare_m: f64) -> Result<f64, TapeError> {
    Reader::new(text, bare_m)?.whole()
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Token {
    Number {
        value: f64,
        whole: bool,
        spaced: bool,
    },
    Unit(f64),
    /// `spaced` is true with a space on its left.
    Sign {
        symbol: char,
        spaced: bool,
    },
}

/// Recursive descent over the tokens of one typed length. A quantity carries its dimension, so that `34/2` is a length and `2 in * 3 in` an error.
struct Reader {
    tokens: Vec<Token>,
    at: usize,
    bare_m: f64,
    depth: usize,
}

/// A value and whether a unit was given.
#[derive(Clone, Copy)]
struct Quantity {
    value: f64,
    has_unit: bool,
}

impl Reader {
    const DEEPEST: usize = 32;

    fn new(text: &str, bare_m: f64) -> Result<Self, TapeError> {
        let tokens = tokens(text)?;
        if tokens.is_empty() {
            Err(TapeError::Empty)
        } else {
            Ok(Self {
                tokens,
                at: 0,
                bare_m,
                depth: 0,
            })
        }
    }

    fn whole(mut self) -> Result<f64, TapeError> {
        let sum = self.sum()?;
        match self.tokens.get(self.at) {
            None => Ok(self.in_metres(sum)),
            Some(token) => Err(TapeError::Unexpected(token.text())),
        }
    }

    fn in_metres(&self, q: Quantity) -> f64 {
        if q.has_unit { q.value } else { q.value * self.bare_m }
    }

    fn sum(&mut self) -> Result<Quantity, TapeError> {
        let mut sum = self.product()?;
        while let Some(symbol) = self.take_sign(&['+', '-']) {
            let term = self.product()?;
            // A bare number beside one with a unit is in the unit of the screen.
            if sum.has_unit != term.has_unit {
                sum = Quantity {
                    value: self.in_metres(sum),
                    has_unit: true,
                };
            }
            let term = if sum.has_unit { self.in_metres(term) } else { term.value };
            sum.value += if symbol == '-' { -term } else { term };
        }
        Ok(sum)
    }

    fn product(&mut self) -> Result<Quantity, TapeError> {
        let mut product = self.factor()?;
        while let Some(symbol) = self.take_sign(&['*', '/']) {
            let factor = self.factor()?;
            let both_lengths = product.has_unit && factor.has_unit;
            if both_lengths || (symbol == '/' && factor.has_unit) {
                return Err(TapeError::Unexpected(format!("{symbol} a length")));
            }
            let value = if symbol == '*' {
                product.value * factor.value
            } else {
                product.value / factor.value
            };
            product = Quantity {
                value,
                has_unit: product.has_unit || factor.has_unit,
            };
        }
        Ok(product)
    }

    fn factor(&mut self) -> Result<Quantity, TapeError> {
        self.depth += 1;
        if self.depth > Self::DEEPEST {
            return Err(TapeError::Unexpected("(".to_owned()));
        }
        let factor = match self.take_sign(&['-', '+', '(']) {
            Some('-') => self.factor().map(|q| Quantity { value: -q.value, ..q }),
            Some('+') => self.factor(),
            Some(_) => {
                let inner = self.sum()?;
                self.take_sign(&[')']).ok_or(TapeError::StopsShort)?;
                Ok(inner)
            }
            None => self.number(),
        };
        self.depth -= 1;
        self.with_unit(factor?)
    }

    /// A number, or a whole number with a fraction after a space or a close hyphen.
    fn number(&mut self) -> Result<Quantity, TapeError> {
        let Some(&Token::Number { value, whole, .. }) = self.tokens.get(self.at) else {
            return Err(self
                .tokens
                .get(self.at)
                .map_or(TapeError::StopsShort, |t| TapeError::Unexpected(t.text())));
        };
        self.at += 1;
        let fraction = if whole { self.fraction_behind() } else { None };
        let value = match fraction {
            Some(fraction) => value + fraction,
            None if whole => value / self.bottom_of_a_fraction().unwrap_or(1.0),
            None => value,
        };
        Ok(Quantity { value, has_unit: false })
    }

    /// What a whole number is divided by where the two are a fraction of a unit, as in `3/4"`: by itself `/` divides lengths by numbers.
    fn bottom_of_a_fraction(&mut self) -> Option<f64> {
        let rest = self.tokens.get(self.at..)?;
        let [
            Token::Sign { symbol: '/', .. },
            Token::Number {
                value: bottom,
                whole: true,
                ..
            },
            Token::Unit(_),
            ..,
        ] = rest
        else {
            return None;
        };
        let bottom = *bottom;
        self.at += 2;
        Some(bottom)
    }

    fn fraction_behind(&mut self) -> Option<f64> {
        let hyphen = usize::from(matches!(
            self.tokens.get(self.at),
            Some(Token::Sign {
                symbol: '-',
                spaced: false
            })
        ));
        let rest = self.tokens.get(self.at + hyphen..)?;
        let [
            Token::Number {
                value: top,
                whole: true,
                spaced,
            },
            Token::Sign {
                symbol: '/',
                spaced: false,
            },
            Token::Number {
                value: bottom,
                whole: true,
                ..
            },
            ..,
        ] = rest
        else {
            return None;
        };
        // 34 - 1/8 is a difference, 34-1/8 and 34 1/8 are mixed numbers; 34-9/2 is a difference again.
        if (hyphen == 1 && *spaced) || *bottom == 0.0 || top >= bottom {
            return None;
        }
        self.at += hyphen + 3;
        Some(top / bottom)
    }

    fn with_unit(&mut self, q: Quantity) -> Result<Quantity, TapeError> {
        let Some(&Token::Unit(unit_m)) = self.tokens.get(self.at) else {
            return Ok(q);
        };
        self.at += 1;
        if q.has_unit {
            return Err(TapeError::Unexpected("a second unit".to_owned()));
        }
        let mut length = Quantity {
            value: q.value * unit_m,
            has_unit: true,
        };
        // 4' 3 1/2" and the like: a smaller unit follows without a sign.
        if matches!(self.tokens.get(self.at), Some(Token::Number { .. })) {
            let number = self.number()?;
            let rest = self.with_unit(number)?;
            length.value += self.in_metres(rest).copysign(q.value);
        }
        Ok(length)
    }

    fn take_sign(&mut self, wanted: &[char]) -> Option<char> {
        match self.tokens.get(self.at) {
            Some(&Token::Sign { symbol, .. }) if wanted.contains(&symbol) => {
                self.at += 1;
                Some(symbol)
            }
            _ => None,
        }
    }
}

impl Token {
    fn text(self) -> String {
        match self {
            Self::Number { value, .. } => value.to_string(),
            Self::Unit(_) => "a unit".to_owned(),
            Self::Sign { symbol, .. } => symbol.to_string(),
        }
    }
}

fn tokens(text: &str) -> Result<Vec<Token>, TapeError> {
    if text.len() > 200 {
        return Err(TapeError::OutOfRange);
    }
    let mut tokens = Vec::new();
    let mut rest = text;
    loop {
        let trimmed = rest.trim_start();
        let spaced = trimmed.len() < rest.len();
        let Some(first) = trimmed.chars().next() else {
            return Ok(tokens);
        };
        let length = match first {
            '0'..='9' | '.' => {
                let end = trimmed
                    .find(|c: char| !c.is_ascii_digit() && c != '.')
                    .unwrap_or(trimmed.len());
                let digits = &trimmed[..end];
                let value = digits.parse().map_err(|_| TapeError::Unexpected(digits.to_owned()))?;
                tokens.push(Token::Number {
                    value,
                    whole: !digits.contains('.'),
                    spaced,
                });
                end
            }
            c if c.is_alphabetic() => {
                let end = trimmed.find(|c: char| !c.is_alphabetic()).unwrap_or(trimmed.len());
                tokens.push(Token::Unit(unit(&trimmed[..end])?));
                end
            }
            '"' | '\u{2033}' | '\u{201d}' => push(&mut tokens, Token::Unit(INCH_M), first),
            '\'' | '\u{2032}' | '\u{2019}' => push(&mut tokens, Token::Unit(12.0 * INCH_M), first),
            '-' | '\u{2212}' | '\u{2013}' => push(&mut tokens, Token::Sign { symbol: '-', spaced }, first),
            '+' | '*' | '/' | '(' | ')' => push(&mut tokens, Token::Sign { symbol: first, spaced }, first),
            other => return Err(TapeError::Unexpected(other.to_string())),
        };
        rest = &trimmed[length..];
    }
}

fn push(tokens: &mut Vec<Token>, token: Token, from: char) -> usize {
    tokens.push(token);
    from.len_utf8()
}

fn unit(name: &str) -> Result<f64, TapeError> {
    match name.to_lowercase().as_str() {
        "mm" => Ok(1e-3),
        "cm" => Ok(1e-2),
        "m" => Ok(1.0),
        "in" | "inch" | "inches" => Ok(INCH_M),
        "ft" => Ok(12.0 * INCH_M),
        _ => Err(TapeError::Unexpected(name.to_owned())),
    }
}
