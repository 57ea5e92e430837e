//! The form for plants that stand there already.

use crate::season::FieldId;

use super::refusal::field;

pub const OPEN: &str = "They stand here already…";
pub const TITLE: &str = "They stand here already";
pub const WHAT_THEY_ARE: &str =
    "Plants in the middle of their course; the forecast goes on from the day they were seen";
pub const ADD: &str = "Add these plants";

pub const CROP: &str = field(FieldId::Crop);
pub const VARIETY: &str = "Its variety";
pub const PLANTS: &str = "Number of plants";
pub const STAND_IN: &str = "They stand in";
pub const CONTAINER: &str = "Container they stand in";
pub const CHOOSE: &str = "choose…";
pub const STAGE: &str = "They are";
pub const LEAVES: &str = field(FieldId::BegunLeaves);
pub const AS_OF: &str = field(FieldId::BegunOn);
pub const OUT: &str = "They go out on";

pub const CROP_HINT: &str = "tomato";
pub const PLANTS_HINT: &str = "72";

pub const SOWN: &str = "sown, not up yet";
pub const UP: &str = "just up";
pub const IN_LEAF: &str = "in true leaf";

pub const NO_CROP: &str = "write what it is";
