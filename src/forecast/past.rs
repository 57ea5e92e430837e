//! What of a problem lies in the past: nothing can be done about it any more.

use chrono::NaiveDate;

use super::problem::Problem;

impl Problem {
    /// Days on which nobody was there, all of them over.
    pub fn is_over(&self, today: NaiveDate) -> bool {
        match *self {
            Self::NobodyThere { date, .. } => date < today,
            Self::NobodyWaters { span, .. } | Self::NobodyCarries { span, .. } => span.last() < today,
            _ => false,
        }
    }
}
