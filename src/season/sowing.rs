use chrono::NaiveDate;

use crate::units::{DateSpan, Measure, Size};

use super::{ContainerKey, CropKey, GuestId, LotId, OutRule, RecordId, Role, SowingId, StepId};

/// One crop, one date, one number of plants wanted; runs through steps, in one or more lots.
#[derive(Clone, Debug, PartialEq)]
pub struct Sowing {
    pub id: SowingId,
    /// Repeat sowings of one plan share a name.
    pub series: Option<String>,
    pub crop: CropKey,
    pub variety: String,
    /// Its plants stand there already; how they were sown is not asked.
    pub begun: Option<Begun>,
    /// Plants wanted, and the day they are planted out or sold.
    pub wanted: Vec<Wanted>,
    /// In order; the first is sown.
    pub steps: Vec<Step>,
    pub lots: Vec<Lot>,
    /// In order of date.
    pub seen: Vec<Observation>,
    pub seeds_per_cell: u8,
    /// Of the packet or the grower's record; the crop's where it is missing.
    pub germination_percent: Option<u8>,
    /// What that figure rests on, where it was not typed.
    pub germination_from: Option<Counted>,
    /// Of the plants that came up.
    pub losses_percent: u8,
    /// Sown trays stand in one pile for their dark days.
    pub stack: Option<Stack>,
    /// Wants a heat mat until it is up; tender crops do where nothing is said.
    pub bottom_heat: Option<bool>,
    /// Days that it hardens off before it goes; as its crop does where nothing is said.
    pub harden_days: Option<u16>,
    /// Its trays that are not full take no other sowing's plants, and its plants stand in no other's.
    pub alone: bool,
    /// It makes up for plants that are missing of that one.
    pub again_of: Option<SowingId>,
    /// How its plants turned out in the years before, oldest first.
    pub verdicts: Vec<Verdict>,
    pub note: String,
}

impl Sowing {
    /// A sowing of one lot, by the crop's own rules; it has no numbers yet.
    pub fn new(crop: CropKey, wanted: Wanted, steps: Vec<Step>) -> Self {
        Self {
            id: SowingId(0),
            series: None,
            crop,
            variety: String::new(),
            begun: None,
            wanted: vec![wanted],
            steps,
            lots: vec![Lot::new(LotId(0))],
            seen: Vec::new(),
            seeds_per_cell: 1,
            germination_percent: None,
            germination_from: None,
            losses_percent: 0,
            stack: None,
            bottom_heat: None,
            harden_days: None,
            alone: false,
            again_of: None,
            verdicts: Vec::new(),
            note: String::new(),
        }
    }

    /// The same with numbers from that one on, and nothing seen of it yet.
    #[must_use]
    pub fn renumbered(&self, first: u32) -> Self {
        let mut next = first;
        let mut number = || {
            let id = next;
            next = next.saturating_add(1);
            id
        };
        let mut copy = Self { id: SowingId(number()), seen: Vec::new(), again_of: None, ..self.clone() };
        copy.steps.iter_mut().for_each(|step| step.id.0 = number());
        copy.lots.iter_mut().for_each(|lot| lot.id.0 = number());
        copy
    }

    pub fn plants_wanted(&self) -> u32 {
        self.wanted.iter().fold(0, |sum, wanted| sum.saturating_add(wanted.plants))
    }

    /// Whether any of them are to be sold.
    pub fn is_to_sell(&self) -> bool {
        self.wanted.iter().any(|wanted| wanted.to_sell)
    }

    /// The last day on which any of them leaves.
    pub fn out(&self) -> Option<NaiveDate> {
        self.wanted.iter().map(|wanted| wanted.date).max()
    }
}

/// So many of the cells that were sown came up in that year.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Counted {
    pub up: u32,
    pub sown: u32,
    pub year: i32,
}

/// The plants of a sowing in its first container, as the grower found them on a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Begun {
    /// No room is asked for before it.
    pub on: NaiveDate,
    pub stage: Stage,
}

/// How far a plant is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    Sown,
    Up,
    TrueLeaves(u8),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// What `rule` comes to: the season keeps the two together.
    pub date: NaiveDate,
    pub plants: u32,
    pub rule: OutRule,
    /// They are sold then, in flower if the crop is sold so; planted out otherwise.
    pub to_sell: bool,
}

/// One container a lot lives in, from one event to the next.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    pub id: StepId,
    pub container: ContainerKey,
    /// The flat that pots stand in; loose on the shelf without one.
    pub carried_in: Option<ContainerKey>,
    /// Plants, cells or pots to a tray, where the grower knows better than the sizes say; for seed
    /// scattered in an open flat, the plants in one.
    pub per_tray: Option<u32>,
    pub start: Rule,
    /// How far the start may give way to days on which nobody is there; the crop's own where nothing
    /// is said.
    pub slack: Option<Slack>,
    /// Pots start tight and are spaced out later; as the crop asks where nothing is said.
    pub spaced: Option<Spacing>,
}

impl Step {
    /// A step by the crop's own rules; it has no number yet.
    pub const fn new(container: ContainerKey, carried_in: Option<ContainerKey>) -> Self {
        Self { id: StepId(0), container, carried_in, per_tray: None, start: Rule::WhenDue, slack: None, spaced: None }
    }
}

/// What sets the day on which a step starts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// The crop's own: sowing is worked back from planting out, moving on waits for the leaves.
    WhenDue,
    On(NaiveDate),
    DaysAfterSowing(u16),
    DaysBeforeOut(u16),
}

/// Days by which work may be done before and after its day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slack {
    pub early: u16,
    pub late: u16,
}

/// Whether pots are spaced out, and when.
#[derive(Clone, Debug, PartialEq)]
pub enum Spacing {
    /// They stand tight until they go.
    Never,
    /// On the day their leaves meet, as far apart as they will be wide.
    WhenLeavesMeet,
    At(Spaced),
}

#[derive(Clone, Debug, PartialEq)]
pub struct Spaced {
    /// Days after the step's start.
    pub after_days: u16,
    /// From pot middle to pot middle.
    pub pitch: Measure,
}

/// A part of a sowing that moves on by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lot {
    pub id: LotId,
    /// Its part among the shares of all lots.
    pub share: u32,
    /// Days by which that is later than the rules say.
    pub later: u16,
    pub delays: Delays,
}

impl Lot {
    /// As large as any other, and no later.
    pub const fn new(id: LotId) -> Self {
        Self { id, share: 1, later: 0, delays: Delays::MovingOn }
    }
}

/// What a lot does later than the others.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Delays {
    /// It is sown later, and all that is counted from sowing follows; it goes out with the others.
    Sowing,
    /// Sown with the others, moved on later, out with them again.
    #[default]
    MovingOn,
    /// It goes out later, and what is counted back from that day follows.
    Out,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stack {
    pub days: u16,
    /// Trays in one pile, at most.
    pub high: u16,
}

/// Something the grower saw or did; it replaces what was predicted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Observation {
    pub id: RecordId,
    pub date: NaiveDate,
    pub what: Observed,
    /// The lot that it was seen of, where it was not seen of all.
    pub lot: Option<LotId>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Observed {
    Sown {
        /// Cells, or seeds where each has its own.
        cells: Option<u32>,
    },
    Up {
        /// Cells with a plant in them.
        plants: Option<u32>,
    },
    TrueLeaves(u8),
    MovedOn(StepId),
    Lost {
        plants: u32,
        why: Loss,
    },
    PutOut(u32),
    Sold(u32),
    /// Plugs were moved together, so that no cell of these trays is empty.
    GappedUp,
    /// What is done to the seed before it is sown was begun.
    Prepared,
    /// A stack of sown trays was taken apart.
    Unstacked,
    /// Pots were spaced out, in the step that they stood in.
    SpacedOut,
    /// They stood outside by day for the first time.
    HardeningBegun,
    /// They stayed out for the night for the first time.
    NightOut,
    /// How the plants turned out for their age.
    Grown(Grown),
}

/// What plants died of after they had come up, or why they went.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Loss {
    #[default]
    NotKnown,
    DampingOff,
    TooDry,
    TooWet,
    Cold,
    Heat,
    Pests,
    /// Broken in handling.
    Handling,
    /// Thinned or given away.
    Surplus,
}

/// The grower's verdict on plants of that age.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grown {
    TooSmall,
    Right,
    TooBig,
}

/// A verdict of a year that is over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Verdict {
    pub grown: Grown,
    /// Since sowing.
    pub days: u16,
    pub year: i32,
}

/// Plants that were not sown this year, or anything else that takes room between two dates.
#[derive(Clone, Debug, PartialEq)]
pub struct Guest {
    pub id: GuestId,
    pub name: String,
    pub size: Size,
    pub height: Option<Measure>,
    pub number: u16,
    pub span: DateSpan,
    pub role: Role,
    /// Wants a lamp or daylight.
    pub light: bool,
    /// Weight of each; by its size where nobody weighed it.
    pub grams: Option<u32>,
}
