/// How much the grower minds each thing that makes room: what a change costs is measured by it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Matters {
    /// Plants that wait in their cells.
    pub held: Matter,
    /// Sowing on another day than the crop's own.
    pub sown: Matter,
    /// Going out, or being sold, later than was planned.
    pub out: Matter,
    /// Hardened off for longer than usual.
    pub outside: Matter,
    /// Pots smaller than were planned, which are soon too small, or closer to each other.
    pub smaller: Matter,
    /// Fewer plants.
    pub fewer: Matter,
    /// Buying and putting up: a shelf, a lamp.
    pub buying: Matter,
    /// Plants that stand beyond the good reach of lamps.
    pub dark: Matter,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Matter {
    Little,
    #[default]
    Fairly,
    Much,
}
