//! The page in a real Chromium: filled, broken, read by keys and by machine, at every width, light and dark.
//!
//! Needs chromium, chromium-driver and axe-core; `./test` fetches what it may. Nothing is left out where one is missing:
//! the test fails and says what to type.
#![allow(missing_docs)]
// What goes wrong in a test ends it, with the place.
#![allow(clippy::unwrap_used)]

mod arrive;
mod bench;
mod broken;
mod fill;
mod forecast;
mod keys;
mod looks;
mod machine;
mod speed;
mod stock;
mod weighed;
