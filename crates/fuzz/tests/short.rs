//! The short run: every input that was ever found, then some that are new, the same every time.

use fuzz::{Spoiler, found, guard, targets};
use std::path::Path;

fn main() -> Result<(), String> {
    let at_hand = Path::new(env!("CARGO_TARGET_TMPDIR")).join("at-hand");
    println!("the input at hand stands in {}", at_hand.display());
    for target in targets::ALL {
        let found = found::found(target).map_err(|why| format!("{}: {why}", target.name))?;
        let seeds = (target.seeds)();
        let mut spoiler = Spoiler::new(1, seeds.clone(), target.spoilt);
        let spoilt = std::iter::repeat_with(move || spoiler.input()).take(target.short);
        let (kept, good) = (found.len(), seeds.len());
        let ran = guard::run(target, found.into_iter().chain(seeds).chain(spoilt), &at_hand)?;
        assert_eq!(ran.inputs as usize, kept + good + target.short, "{}", target.name);
        println!(
            "{:12} {kept:3} found before, {good:2} good, {:6} new: {:5.1} s, the longest {:.2} s, {:3} MB",
            target.name,
            target.short,
            ran.time.as_secs_f64(),
            ran.longest.as_secs_f64(),
            ran.memory / 1_000_000
        );
    }
    Ok(())
}
