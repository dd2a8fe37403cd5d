//! `turnwright plan` without a job: the built-in one.

/// What to type next.
pub const NEXT: &str = "\
This was the built-in demonstration job in the built-in school shop. Next:
  turnwright                                  the same on a page, to change it
  turnwright plan JOB.toml                    a job of your own (see examples/)
  turnwright plan JOB.toml --shop SHOP.toml   with your own lathe and chuck
  turnwright plan JOB.toml --format json      for another program
  turnwright check JOB.toml                   only reads it";
