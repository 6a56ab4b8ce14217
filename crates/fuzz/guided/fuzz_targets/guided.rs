//! One of the targets, by the name in `FUZZ_TARGET`, on what libFuzzer makes.

#![no_main]

use fuzz::{Target, targets};
use libfuzzer_sys::fuzz_target;
use std::sync::LazyLock;

static TARGET: LazyLock<&Target> = LazyLock::new(|| {
    let name = std::env::var("FUZZ_TARGET").expect("FUZZ_TARGET names the target");
    targets::find(&name).expect("one of fuzz::targets::ALL")
});

fuzz_target!(|input: &[u8]| (TARGET.run)(input));
