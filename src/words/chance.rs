use crate::outlook::{Chance, ChanceWeek};

/// `2 to 3 of 10 seasons`: those in which a week is too full, from proven to at most.
pub fn seasons(chance: &Chance, week: &ChanceWeek) -> String {
    let tenths = |draws: u32| (chance.share(draws) * 10.0).round() as u32;
    let (low, high) = (tenths(week.proven), tenths(week.at_most));
    match (low, high) {
        _ if week.at_most == 0 => "no season".to_owned(),
        _ if week.proven >= chance.draws => "every season".to_owned(),
        (_, 0) => "fewer than 1 of 10 seasons".to_owned(),
        (0, high) => format!("up to {high} of 10 seasons"),
        (10, _) => "nearly every season".to_owned(),
        (low, high) if low == high => format!("{low} of 10 seasons"),
        (low, high) => format!("{low} to {high} of 10 seasons"),
    }
}

/// `, but too full in 5 of 10 seasons (the week of 19 Apr)`: of what fits as planned, the week that most often does not;
/// nothing where that is in fewer than 1 of 10.
pub fn but_too_full(chance: Option<&Chance>) -> String {
    let worst = |chance: &Chance| chance.weeks.iter().max_by_key(|week| (week.proven, week.at_most)).cloned();
    let Some((chance, worst)) = chance.and_then(|chance| Some((chance, worst(chance)?))) else { return String::new() };
    if chance.share(worst.at_most) < 0.05 {
        return String::new();
    }
    format!(", but too full in {} ({})", seasons(chance, &worst), super::week(worst.label))
}

/// `24 to 31 wanted in 8 of 10 seasons`: between the figures that 9 and 1 in 10 reach.
pub fn wanted_in_most(week: &ChanceWeek) -> String {
    match week.needed {
        (low, high) if low == high => format!("{low} wanted in 8 of 10 seasons"),
        (low, high) => format!("{low} to {high} wanted in 8 of 10 seasons"),
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;
    use crate::outlook::{Pool, PoolKind, ProblemHash, WeekLabel};
    use crate::season::Role;

    #[test]
    fn a_share_of_seasons_is_told_in_tenths() {
        let told = |proven, at_most| {
            let week = ChanceWeek {
                from: NaiveDate::default(),
                label: WeekLabel::Own(1),
                pool: Pool { kind: PoolKind::Of(Role::Growing), places: Vec::new() },
                proven,
                at_most,
                needed: (3, 5),
            };
            let chance = Chance { problem: ProblemHash(0), draws: 1_000, varies: true, weeks: vec![week.clone()] };
            let (told, but) = (seasons(&chance, &week), but_too_full(Some(&chance)));
            let expected = format!(", but too full in {told} (week 1)");
            assert_eq!(but, if at_most < 50 { String::new() } else { expected });
            told
        };
        assert_eq!(told(0, 0), "no season");
        assert_eq!(told(0, 49), "fewer than 1 of 10 seasons");
        assert_eq!(told(0, 251), "up to 3 of 10 seasons");
        assert_eq!(told(150, 349), "2 to 3 of 10 seasons");
        assert_eq!(told(170, 230), "2 of 10 seasons");
        assert_eq!(told(951, 1_000), "nearly every season");
        assert_eq!(told(1_000, 1_000), "every season");
    }
}
