//! A second shop, in numbers only: it makes each piece for real, rigid work between leaning jaws on springs that only
//! push, the spindle's plane as the cut, the finished piece measured corner by corner. It shares no formula with the
//! forecast, so that the two can be held against each other.
#![allow(missing_docs)]

mod bench;
#[cfg(test)]
mod beside;
#[cfg(test)]
mod beside_told;
#[cfg(test)]
mod closed;
mod compare;
mod contact;
#[path = "../scenario/dice.rs"]
#[allow(dead_code, reason = "this shop throws less than others")]
mod dice;
mod from_plan;
mod inspect;
mod invented;
mod jaw;
mod limits;
mod make;
mod noise;
#[path = "../plain/mod.rs"]
mod plain;
mod recipe;
mod shop;
mod solid;
mod zone;
