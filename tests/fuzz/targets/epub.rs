#![no_main]
#![allow(missing_docs)]
libfuzzer_sys::fuzz_target!(|data: &[u8]| ownwords_fuzz::epub(data));
