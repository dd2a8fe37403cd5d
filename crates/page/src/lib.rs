//! The web face: parse, call, render.
