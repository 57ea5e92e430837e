//! What pages are made of: fields, forms, months, things drawn to scale.

pub(super) mod calendar;
pub(super) mod drawn;
pub(super) mod fields;
pub(super) mod form;
pub(super) mod widgets;
