//! Initials: who was there, short enough for the sheet.

use crate::domain::refusal::{Refusal, RefusalKind};

/// The most signs they have; they stand in a narrow column of the sheet. Common practice, no source.
pub const MOST: usize = 12;

/// The initials in what was typed: up to [`MOST`] letters, digits, spaces, full stops and hyphens; may be empty.
///
/// # Errors
/// The fact and the way out.
pub fn read(typed: &str) -> Result<&str, Refusal> {
    let initials = typed.trim();
    let fits = |sign: &char| sign.is_alphanumeric() || matches!(sign, ' ' | '.' | '-');
    if let Some(sign) = initials.chars().find(|sign| !fits(sign)) {
        let fact = format!("Initials hold no {sign}");
        return Err(Refusal::new(RefusalKind::BadValue, fact, "Type letters, digits, spaces, full stops or hyphens"));
    }
    if initials.chars().count() > MOST {
        let fact = format!("Initials have at most {MOST} signs");
        return Err(Refusal::new(RefusalKind::BadValue, fact, "Shorten them"));
    }
    Ok(initials)
}

#[cfg(test)]
mod tests {
    use super::read;

    #[test]
    fn initials_are_short_and_plain() {
        for (typed, kept) in
            [(" MK ", "MK"), ("J.-P. 2", "J.-P. 2"), ("Ōta", "Ōta"), ("", ""), ("Twelve signs", "Twelve signs")]
        {
            assert_eq!(read(typed), Ok(kept));
        }
        let why = |typed: &str| read(typed).map(str::to_owned).map_err(|refusal| refusal.to_string());
        assert_eq!(why("Thirteen sign").unwrap_err(), "Initials have at most 12 signs. Shorten them");
        assert_eq!(why("M<K").unwrap_err(), "Initials hold no <. Type letters, digits, spaces, full stops or hyphens");
    }
}
