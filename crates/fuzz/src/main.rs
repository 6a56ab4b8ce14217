//! The long run: `cargo run --release -p fuzz -- [--minutes 15] [--seed 2] [TARGET ...]`.
//!
//! `--input FILE TARGET` runs one file; `--seeds FOLDER` writes the inputs that targets begin with. Each target runs in a process of its own. Where one ends that process, its input is kept in `found/` and the run goes on.

use fuzz::{Spoiler, Target, found, guard, targets};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};
use std::time::{Duration, Instant};

const USAGE: &str =
    "fuzz [--minutes M] [--seed N] [TARGET ...]: spoils inputs for M minutes (15) in all, from seed N (2) on";
/// A process makes no more inputs than this before the next one.
const INPUTS: usize = 1_000_000;

struct Asked {
    minutes: f64,
    seed: u64,
    targets: Vec<&'static Target>,
    /// Where the input at hand is written; in the processes that run a target.
    at_hand: Option<PathBuf>,
    /// The one file to run.
    input: Option<PathBuf>,
    /// Where to write the inputs that targets begin with.
    seeds: Option<PathBuf>,
}

fn main() -> ExitCode {
    match asked(std::env::args().skip(1)).and_then(|asked| match (&asked.seeds, &asked.input, &asked.at_hand) {
        (Some(folder), _, _) => seeds(&asked, folder),
        (None, Some(file), _) => only(&asked, file),
        (None, None, Some(at_hand)) => spoil(&asked, at_hand),
        (None, None, None) => long(&asked),
    }) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::from(2)
        }
    }
}

fn asked(mut words: impl Iterator<Item = String>) -> Result<Asked, String> {
    let mut asked = Asked { minutes: 15.0, seed: 2, targets: Vec::new(), at_hand: None, input: None, seeds: None };
    while let Some(word) = words.next() {
        let mut value = || words.next().ok_or_else(|| format!("{word} what?\n{USAGE}"));
        let wrong = |value: &str| format!("{value:?} stands where a number should\n{USAGE}");
        match word.as_str() {
            "--minutes" => asked.minutes = value().and_then(|v| v.parse().map_err(|_| wrong(&v)))?,
            "--seed" => asked.seed = value().and_then(|v| v.parse().map_err(|_| wrong(&v)))?,
            "--at-hand" => asked.at_hand = Some(PathBuf::from(value()?)),
            "--input" => asked.input = Some(PathBuf::from(value()?)),
            "--seeds" => asked.seeds = Some(PathBuf::from(value()?)),
            name => asked.targets.push(targets::find(name).ok_or_else(|| {
                let names: Vec<&str> = targets::ALL.iter().map(|t| t.name).collect();
                format!("{name:?} is none of {}\n{USAGE}", names.join(", "))
            })?),
        }
    }
    if asked.targets.is_empty() {
        asked.targets = targets::ALL.iter().collect();
    }
    Ok(asked)
}

/// Writes what each target begins with, the good inputs and those found: `folder/<target>/<number>`.
fn seeds(asked: &Asked, folder: &Path) -> Result<bool, String> {
    let write = |target: &Target| -> std::io::Result<()> {
        let own = folder.join(target.name);
        std::fs::create_dir_all(&own)?;
        let inputs = (target.seeds)().into_iter().chain(found::found(target)?);
        inputs.enumerate().try_for_each(|(i, input)| std::fs::write(own.join(i.to_string()), input))
    };
    for target in &asked.targets {
        write(target).map_err(|why| format!("{}, {}: {why}", folder.display(), target.name))?;
    }
    Ok(true)
}

/// Runs one file.
fn only(asked: &Asked, file: &Path) -> Result<bool, String> {
    let input = std::fs::read(file).map_err(|why| format!("{}: {why}", file.display()))?;
    for target in &asked.targets {
        let ran = guard::run(target, std::iter::once(input.clone()), file)?;
        println!("{}: {:.2} s", target.name, ran.longest.as_secs_f64());
    }
    Ok(true)
}

/// All targets, one after another; whether nothing was found.
fn long(asked: &Asked) -> Result<bool, String> {
    let each = Duration::from_secs_f64((60.0 * asked.minutes / asked.targets.len() as f64).max(1.0));
    let mut count = 0;
    for target in &asked.targets {
        let (until, mut seed) = (Instant::now() + each, asked.seed);
        while Instant::now() < until {
            if let Some(kept) = one(target, seed, until.saturating_duration_since(Instant::now()))? {
                println!("{}: found, and kept in {}", target.name, kept.display());
                count += 1;
            }
            seed += 1;
        }
    }
    println!("{count} found");
    Ok(count == 0)
}

/// A process that runs `target` from `seed` for `time`; where its input is kept, if one ended it.
fn one(target: &Target, seed: u64, time: Duration) -> Result<Option<PathBuf>, String> {
    let at_hand = std::env::temp_dir().join(format!("fuzz-{}-{}", std::process::id(), target.name));
    let program = std::env::current_exe().map_err(|why| why.to_string())?;
    let (minutes, seed) = ((time.as_secs_f64() / 60.0).to_string(), seed.to_string());
    let mut command = Command::new(program);
    command.args([target.name, "--minutes", &minutes, "--seed", &seed, "--at-hand"]).arg(&at_hand);
    let ended = command.status().map_err(|why| why.to_string())?;
    if ended.success() {
        let _ = std::fs::remove_file(&at_hand);
        return Ok(None);
    }
    let kept = found::folder(target).join(format!("seed-{seed}"));
    let keep = || {
        std::fs::create_dir_all(found::folder(target))?;
        std::fs::copy(&at_hand, &kept)?;
        std::fs::remove_file(&at_hand)
    };
    keep().map_err(|why| format!("{}: {why}", at_hand.display()))?;
    Ok(Some(kept))
}

/// Runs the target until the time is up.
fn spoil(asked: &Asked, at_hand: &Path) -> Result<bool, String> {
    let until = Instant::now() + Duration::from_secs_f64(60.0 * asked.minutes);
    for target in &asked.targets {
        let mut spoiler = Spoiler::new(asked.seed, (target.seeds)(), target.spoilt);
        let inputs =
            std::iter::repeat_with(move || spoiler.input()).take(INPUTS).take_while(|_| Instant::now() < until);
        let ran = guard::run(target, inputs, at_hand)?;
        println!(
            "{}, seed {}: {} inputs in {:.0} s, the longest {:.2} s, {} MB",
            target.name,
            asked.seed,
            ran.inputs,
            ran.time.as_secs_f64(),
            ran.longest.as_secs_f64(),
            ran.memory / 1_000_000
        );
    }
    Ok(true)
}
