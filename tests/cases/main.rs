//! Growers' cases: each builds the season through its edits and asks the program's own code.
//!
//! The figures come from growers' reports, restated; each module is named for its question. The
//! arithmetic of the case is the expectation, never the implementation. Unless a case says
//! otherwise a flat is 10.94 × 21.44 in, the gap is 0 and nothing sticks out.

mod asked_of_a_room;
mod can_wait;
mod containers_from_above;
mod dark_or_light;
mod eight_days_away;
mod figures;
mod flats_on_wire_shelves;
mod half_the_floor_is_bench;
mod how_many_it_carries;
mod leaves_meet;
mod lit_versus_footprint;
mod long_stays;
mod middle;
mod no_formulas;
mod odd_dates;
mod one_bad_row;
mod one_bench_again_and_again;
mod one_count;
mod one_tray_becomes_a_hundred;
mod other_days;
mod plugs_or_six_packs;
mod pots_on_tables;
mod properties;
mod quick_line;
mod racks_on_a_floor;
mod ready;
mod records_count;
mod records_of_work;
mod reported;
mod school_weeks;
mod seen;
mod sixty_kinds;
mod small_cells_grow_out;
mod small_lots_share;
mod small_or_big_cups;
mod south_of_the_equator;
mod square_or_round_pots;
mod support;
mod too_cold_or_too_warm;
mod too_tall;
mod two_changes;
mod ways_out;
mod ways_out_in_words;
mod weeks_are_a_label;
mod wet_weight;
mod what_a_sentence_names;
mod what_an_edit_changed;
mod what_if;
mod what_to_have_ready;
mod which_last_frost;
mod whole_seasons;
mod whole_trays_and_seeds;
mod work_of_the_week;
