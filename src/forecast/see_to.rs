//! What of a problem is work for somebody on a day, though no event of a sowing is.

use chrono::NaiveDate;

use super::problem::Problem;

impl Problem {
    /// The last day on which it can be seen to in time; `None` where there is no such day, or where a piece of work says
    /// it already.
    pub fn see_to_by(&self, today: NaiveDate) -> Option<NaiveDate> {
        match *self {
            Self::NobodyWaters { span, .. } | Self::NobodyCarries { span, .. } | Self::NoPlaceFor { span, .. }
                if span.last() >= today =>
            {
                Some(span.from().max(today))
            }
            Self::NowhereToHarden { first, .. } => Some(first.max(today)),
            Self::TooFew { sow_again_until, .. } | Self::SownTooFew { sow_again_until, .. } => {
                Some(sow_again_until).filter(|until| *until >= today)
            }
            _ => None,
        }
    }
}
