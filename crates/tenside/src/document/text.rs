//! What names may hold.

use crate::error::{Error, Fault, FaultKind};

/// The longest name, in characters.
const LONGEST_NAME: usize = 200;

/// The longest piece of a user's text that a message repeats, in characters.
pub(crate) const LONGEST_SHOWN: usize = 80;

/// A user's text as messages show it: in quotes, control characters escaped, cut where it is long.
pub(crate) fn shown(text: &str) -> String {
    match text.char_indices().nth(LONGEST_SHOWN) {
        Some((end, _)) => format!("{:?}...", &text[..end]),
        None => format!("{text:?}"),
    }
}

/// Upper and lower case, hyphens, underscores and runs of blanks made alike, for comparing names.
pub(crate) fn fold(name: &str) -> String {
    let mut folded = String::with_capacity(name.len());
    for word in name.split(|c: char| c.is_whitespace() || c == '-' || c == '_').filter(|word| !word.is_empty()) {
        if !folded.is_empty() {
            folded.push(' ');
        }
        if word.is_ascii() {
            folded.extend(word.bytes().map(|byte| char::from(byte.to_ascii_lowercase())));
        } else {
            folded.extend(word.chars().flat_map(char::to_lowercase));
        }
    }
    folded
}

/// What is spelt otherwise in Britain, with the spelling of the United States and of INCI names.
const SPELLINGS: [(&str, &str); 7] = [
    ("sulph", "sulf"),
    ("hydrolys", "hydrolyz"),
    ("aluminium", "aluminum"),
    ("yoghurt", "yogurt"),
    ("liquorice", "licorice"),
    ("colour", "color"),
    ("solubilis", "solubiliz"),
];

/// As [`fold`], with both spellings of such words made alike.
pub(crate) fn fold_spelling(name: &str) -> String {
    SPELLINGS
        .iter()
        .fold(fold(name), |name, (here, there)| if name.contains(here) { name.replace(here, there) } else { name })
}

/// True for names that differ in case, hyphens, underscores and blanks only.
pub(crate) fn names_alike(left: &str, right: &str) -> bool {
    if left == right {
        return true;
    }
    // Most names differ in their first letter already.
    let first = |name: &str| name.trim_start().chars().next().and_then(|first| first.to_lowercase().next());
    first(left) == first(right) && fold(left) == fold(right)
}

/// The longest remark or source, in characters.
const LONGEST_PROSE: usize = 4000;

/// A remark or source: as a name, but longer, and with line breaks.
pub(crate) fn check_prose(prose: &str) -> Result<String, Error> {
    let trimmed = prose.trim();
    let fault = |message: &str| Fault::new(FaultKind::OutOfRange, message);
    if trimmed.is_empty() || trimmed.chars().count() > LONGEST_PROSE {
        return Err(fault("a remark is empty or too long").allowed("1 to 4000 characters").into());
    }
    if let Some(bad) = trimmed.chars().find(|c| (c.is_control() && !matches!(c, '\n' | '\t' | '\r')) || reorders(*c)) {
        return Err(fault("a remark holds an invisible control character")
            .value(format!("U+{:04X}", u32::from(bad)))
            .remedy("remove it")
            .into());
    }
    if trimmed.chars().all(|c| c.is_whitespace() || is_invisible(c) || joins(c)) {
        return Err(fault("a remark has nothing that can be seen")
            .allowed("1 to 4000 characters, one of them visible")
            .into());
    }
    Ok(trimmed.to_string())
}

/// A name or title as people read it: not empty, without control characters and without marks that reorder the text
/// shown. Markup is carried as it is; whoever renders it escapes it.
pub(crate) fn check_name(name: &str) -> Result<String, Error> {
    let trimmed = name.trim();
    let fault = |message: &str| Fault::new(FaultKind::OutOfRange, message);
    if trimmed.is_empty() {
        return Err(fault("a name is empty").allowed("1 to 200 characters").into());
    }
    if trimmed.chars().count() > LONGEST_NAME {
        let shown: String = trimmed.chars().take(40).collect();
        return Err(fault("a name is too long").value(format!("{shown:?}...")).allowed("1 to 200 characters").into());
    }
    if let Some(bad) = trimmed.chars().find(|c| c.is_control() || reorders(*c)) {
        return Err(fault("a name holds an invisible control character")
            .value(format!("U+{:04X}", u32::from(bad)))
            .remedy("remove it")
            .into());
    }
    if let Some(bad) = unseen(trimmed) {
        return Err(fault("a name holds an invisible character")
            .value(format!("U+{:04X}", u32::from(bad)))
            .remedy("remove it")
            .into());
    }
    Ok(trimmed.to_string())
}

/// The first character that nobody can see where it stands. Joiners and selectors change the look of what they stand
/// behind in the scripts that use them, and of emoji, never of ASCII; combining marks and blanks count for what they
/// stand beside.
fn unseen(name: &str) -> Option<char> {
    let mut before = None;
    for c in name.chars() {
        if is_invisible(c)
            || (joins(c) && before.is_none_or(|before: char| before.is_ascii() || before.is_whitespace()))
        {
            return Some(c);
        }
        before = Some(c);
    }
    None
}

/// Characters without a look of their own that no script needs: soft hyphens and word joiners, blanks of no width,
/// fillers, and tags.
fn is_invisible(c: char) -> bool {
    matches!(c,
        '\u{00AD}' | '\u{034F}' | '\u{115F}' | '\u{1160}' | '\u{17B4}' | '\u{17B5}' | '\u{180B}'..='\u{180F}' | '\u{200B}'
        | '\u{2060}'..='\u{2064}' | '\u{206A}'..='\u{206F}' | '\u{2800}' | '\u{3164}' | '\u{FFA0}' | '\u{FFF0}'..='\u{FFFB}'
        | '\u{1BCA0}'..='\u{1BCA3}' | '\u{1D173}'..='\u{1D17A}' | '\u{E0000}'..='\u{E00FF}' | '\u{E01F0}'..='\u{E0FFF}')
}

/// Joiners, non-joiners and variation selectors.
fn joins(c: char) -> bool {
    matches!(c, '\u{200C}' | '\u{200D}' | '\u{FE00}'..='\u{FE0F}' | '\u{E0100}'..='\u{E01EF}')
}

fn reorders(c: char) -> bool {
    matches!(c, '\u{200E}' | '\u{200F}' | '\u{061C}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{FEFF}' | '\u{2028}' | '\u{2029}')
}

/// An identifier: lower-case ASCII letters and digits, single hyphens between.
pub(crate) fn check_slug(slug: &str) -> Result<String, Error> {
    let good = !slug.is_empty()
        && slug.len() <= LONGEST_NAME
        && slug.split('-').all(|word| {
            !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit())
        });
    if good {
        return Ok(slug.to_string());
    }
    let shown: String = slug.chars().take(80).collect();
    Err(Fault::new(FaultKind::OutOfRange, "not an identifier")
        .value(format!("{shown:?}"))
        .allowed("lower-case letters a to z and digits, words joined by single hyphens, such as \"citric-acid-50\"")
        .into())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_carried_or_refused() {
        assert_eq!(check_name(" <b>Bar</b> ").unwrap(), "<b>Bar</b>");
        for bad in ["", "  ", "a\0b", "abc\u{202E}def", "a\nb"] {
            assert!(check_name(bad).is_err(), "{bad:?}");
        }
        assert!(check_name(&"x".repeat(201)).is_err());
        for bad in [
            "\u{200B}",
            "\u{AD}",
            "\u{2060}",
            "\u{200D}",
            "\u{200C}\u{FE0F}",
            "kao\u{200B}lin",
            "kaolin\u{200D}",
            "\u{3164}",
            "\u{E0041}x",
            "1\u{FE0F}",
        ] {
            let error = check_name(bad).unwrap_err();
            assert!(error.to_string().contains("invisible character (found U+"), "{error}");
            assert_eq!(check_prose(bad).is_err(), bad.chars().all(|c| !c.is_ascii()), "{bad:?}");
        }
        // A Persian word with a non-joiner, a Sinhala one with a joiner, emoji with joiner and selector, a combining
        // accent.
        for good in
            ["می\u{200C}خواهم", "ශ්\u{200D}රී", "👩\u{200D}🔬", "☀\u{FE0F}", "e\u{301}", "石鹸", "סבון", "葛\u{E0100}"]
        {
            assert_eq!(check_name(good).unwrap(), good);
        }
        assert!(check_slug("citric-acid-50").is_ok());
        for bad in ["", "A", "a--b", "-a", "a-", "a b", "é"] {
            assert!(check_slug(bad).is_err(), "{bad:?}");
        }
    }
}
