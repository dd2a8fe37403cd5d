//! Cautions: signal words used strictly, and what stands at the head of every plan.

use super::Facts;
use super::facts::Nose;
use super::words::{self, Words};

/// What comes of it if nobody heeds it; the ladder of ISO 3864-2 and ANSI Z535, from memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Signal {
    /// Damage to things only.
    Notice,
    /// Could injure lightly.
    Caution,
    /// Could kill or maim.
    Warning,
    /// Will kill or maim.
    Danger,
}

impl Signal {
    /// The ladder, worst last.
    pub const ALL: [Signal; 4] = [Signal::Notice, Signal::Caution, Signal::Warning, Signal::Danger];

    /// The signal with which a text opens, whatever its letters' case.
    pub fn of(text: &str) -> Option<Signal> {
        let (word, _) = text.split_once(':')?;
        Signal::ALL.into_iter().find(|signal| signal.word().eq_ignore_ascii_case(word))
    }

    /// The word that opens the sentence.
    pub fn word(self) -> &'static str {
        match self {
            Signal::Notice => "NOTICE",
            Signal::Caution => "CAUTION",
            Signal::Warning => "WARNING",
            Signal::Danger => "DANGER",
        }
    }
}

/// A caution: how bad, and what to do or leave.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// How bad.
    pub signal: Signal,
    /// What to do or leave, one sentence.
    pub says: String,
}

impl Caution {
    /// A caution.
    pub fn new(signal: Signal, says: impl Into<String>) -> Self {
        Caution { signal, says: says.into() }
    }

    /// "WARNING: ...".
    pub fn text(&self) -> String {
        format!("{}: {}", self.signal.word(), self.says)
    }
}

/// The same text, its signal word in capitals as the standards print it.
pub(super) fn in_capitals(text: &str) -> String {
    match (Signal::of(text), text.split_once(':')) {
        (Some(signal), Some((_, says))) => format!("{}:{says}", signal.word()),
        _ => text.to_string(),
    }
}

/// What stands at the head of every plan: what it is and who decides.
pub const FIVE_SENTENCES: [&str; 5] = [
    "This sheet is an aid to planning. It does not know the state of your machine, chuck, tools or work.",
    "Follow the machine and chuck maker's instructions, the rules of your workshop, and the person responsible for it. \
     Where they ask for less, do less.",
    "A qualified person must judge each set-up before it is started. Learners: get the initials of your instructor.",
    "Figures marked assumed were not measured on your machine.",
    "If anything moves, sounds or smells different: stop, step back, find out.",
];

/// Adds the five sentences.
pub(super) fn at_the_head(cautions: &mut Vec<String>) {
    add(cautions, FIVE_SENTENCES.iter().map(ToString::to_string));
}

/// Adds what holds for the whole job.
pub(super) fn for_the_job(cautions: &mut Vec<String>, facts: &Facts, words: &Words) {
    add(cautions, whole_job(facts, words).iter().map(Caution::text));
}

/// Each once, so that filling a plan twice changes nothing.
fn add(cautions: &mut Vec<String>, texts: impl Iterator<Item = String>) {
    for text in texts {
        if !cautions.contains(&text) {
            cautions.push(text);
        }
    }
}

fn whole_job(facts: &Facts, words: &Words) -> Vec<Caution> {
    let chips = words.chips;
    let mut all = vec![
        Caution::new(
            Signal::Warning,
            "near turning work no gloves, loose sleeves, rings or watch; long hair tied up; eyes covered, also those of \
             people nearby.",
        ),
        Caution::new(
            Signal::Warning,
            format!(
                "stop the spindle to measure, to clear {chips}, to reach for anything behind the tool and to read this \
                 sheet; let the chuck come to rest by itself."
            ),
        ),
        Caution::new(Signal::Warning, "no abrasive cloth in the hand on turning work: corners catch it."),
        Caution::new(Signal::Caution, format!("hot and sharp {chips}: hook or brush, never hand, rag or air.")),
    ];
    all.extend(nose(facts.nose));
    all.extend(facts.material_caution.clone());
    all.extend(left_raw(&facts.left_raw));
    all
}

fn nose(nose: Nose) -> Option<Caution> {
    let says = match nose {
        Nose::Locked => return None,
        Nose::Threaded => "the chuck is screwed on: reversing or braking hard can unscrew it.",
        Nose::Unknown => {
            "the spindle nose is not known: if the chuck is screwed on, reversing or braking hard can unscrew it."
        }
    };
    Some(Caution::new(Signal::Warning, says))
}

fn left_raw(faces: &[String]) -> Option<Caution> {
    let (stay, square) = if faces.len() == 1 { ("stays", "it squares") } else { ("stay", "they square") };
    (!faces.is_empty()).then(|| {
        Caution::new(Signal::Notice, format!("{} {stay} as the bar left it; {square} nothing.", words::faces(faces)))
    })
}
