//! The target of the same name as this program, steered by what of the code an input reaches.
//!
//! Inputs are spoilt as in the long run without steering ([`fuzz::Spoiler`]), and every other time, where anything may be spoilt,
//! by the steering library's own means.

#![no_main]

use fuzz::{Spoiler, Spoilt, Target, targets};
use libfuzzer_sys::{fuzz_mutator, fuzz_target, fuzzer_mutate};

fn target() -> &'static Target {
    targets::find(env!("CARGO_BIN_NAME")).expect("a program for each target")
}

fuzz_target!(|input: &[u8]| (target().run)(input));

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    let target = target();
    if target.spoilt == Spoilt::Anything && seed % 2 == 0 {
        return fuzzer_mutate(data, size, max_size);
    }
    let spoilt = Spoiler::new(u64::from(seed), vec![data[..size].to_vec()], target.spoilt).input();
    let kept = spoilt.len().min(max_size);
    data[..kept].copy_from_slice(&spoilt[..kept]);
    kept
});
