//! Growers' cases: each builds the season through its edits and asks the program's own code.
//!
//! The figures come from growers' reports, restated in the project's cases; the case's id names
//! the module. The arithmetic of the case is the expectation, never the implementation. Unless a
//! case says otherwise a flat is 10.94 × 21.44 in, the gap is 0 and nothing sticks out.

mod middle;
mod odd_dates;
mod properties;
mod quick_line;
mod reported;
mod s01;
mod s02;
mod s03;
mod s04;
mod s06;
mod s07;
mod s08;
mod s11;
mod s12;
mod s13;
mod s14;
mod s15;
mod s16;
mod s17;
mod s20;
mod s22;
mod s24;
mod seen;
mod support;
