//! Small help with words in messages: quoting what was typed, and guessing what was meant.

/// Longest text that a message quotes whole.
const MOST_QUOTED: usize = 40;

/// `text` in quotation marks for a message: shortened where long, control characters made visible.
#[must_use]
pub fn quoted(text: &str) -> String {
    format!("\u{201c}{}\u{201d}", shown(text, MOST_QUOTED))
}

/// No more than `most` letters of `text`, control characters made visible.
#[must_use]
pub fn shown(text: &str, most: usize) -> String {
    let mut shown = String::new();
    for (i, c) in text.chars().enumerate() {
        if i == most {
            shown.push('…');
            break;
        }
        if c.is_control() { shown.extend(c.escape_default()) } else { shown.push(c) }
    }
    shown
}

/// The one of `known` nearest to `typed`, if it is near enough to have been meant.
#[must_use]
pub fn nearest<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let typed: Vec<char> = typed.chars().take(MOST_QUOTED).flat_map(char::to_lowercase).collect();
    let (distance, word) = known
        .into_iter()
        .map(|word| (distance(&typed, &word.to_lowercase().chars().collect::<Vec<_>>()), word))
        .min_by_key(|(distance, _)| *distance)?;
    // A third of the letters wrong is still a likely slip; more is another word.
    (distance <= (typed.len().max(word.chars().count()) / 3).max(1)).then_some(word)
}

/// Least number of letters changed, dropped, added or swapped with their neighbour (optimal string alignment).
fn distance(a: &[char], b: &[char]) -> usize {
    let mut rows = vec![vec![0_usize; b.len() + 1]; a.len() + 1];
    for (i, row) in rows.iter_mut().enumerate() {
        row[0] = i;
    }
    for (j, first) in rows[0].iter_mut().enumerate() {
        *first = j;
    }
    for i in 1..=a.len() {
        for j in 1..=b.len() {
            let changed = rows[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut least = changed.min(rows[i - 1][j] + 1).min(rows[i][j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                least = least.min(rows[i - 2][j - 2] + 1);
            }
            rows[i][j] = least;
        }
    }
    rows[a.len()][b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_words_are_found_and_far_ones_are_not() {
        let known = ["thickness", "lap", "strakes", "garboard"];
        assert_eq!(nearest("thicknes", known), Some("thickness"));
        assert_eq!(nearest("Starkes", known), Some("strakes"));
        assert_eq!(nearest("lpa", known), Some("lap"));
        assert_eq!(nearest("colour", known), None);
        assert_eq!(nearest("x", []), None);
    }

    #[test]
    fn quoting_keeps_messages_short_and_clean() {
        assert_eq!(quoted("1-3\n"), "“1-3\\n”");
        assert_eq!(quoted(&"é".repeat(500)).chars().count(), 43);
    }
}
