//! The shelves on one day: racks side by side, tiers from the top down, each shelf seen from above.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::forecast::Stay;
use crate::outlook::{Pool, PoolKind, Verdict, Week, spot_of};
use crate::season::{Lit, PartOfDay, Place, PlaceId, Rack, Role, Shelf, ShelfId, Spot, TrayKey, Zone, ZoneKind};
use crate::units::{Length, LengthUnit};
use crate::words::cautions::Care;
use crate::words::{self, Words};

use super::drawing::{cut, text_width, wrap};
use super::page::PAGE_WIDTH;
use super::stays::{self, DrawnStay, Label};
use super::{Anchor, Class, Drawing, Family, Scale, Shape, TextClass};

/// The drawing, and what it could not show.
#[derive(Clone, Debug, PartialEq)]
pub struct ShelfMap {
    pub drawing: Drawing,
    /// Trays, stacks and blocks of pots that stand somewhere that day.
    pub placed: usize,
    /// Those that have no spot yet: what shelves they want, and their marks.
    pub no_spot: Vec<(String, Vec<String>)>,
}

/// Draws every shelf on `date`, and says what `room` there is then; text and margins keep their printed size at any
/// scale.
pub fn shelf_map(words: &Words<'_>, date: NaiveDate, room: &[&Week], scale: Scale) -> ShelfMap {
    let mut sheet = Sheet::new(words, date, scale);
    let below_head = sheet.head();
    let (room_right, below_head) = sheet.room(below_head, room);
    let (right, below_racks) = sheet.racks(below_head);
    let width = (right.max(room_right) + sheet.paper(30)).max(sheet.paper(900));
    let height = sheet.foot(below_racks, width) + sheet.paper(30);
    let season = words.season.name();
    let title = words::map::title(season, date);
    let placed = sheet.on_shelf.values().map(Vec::len).sum();
    let no_spot = sheet.no_spot();
    ShelfMap { drawing: Drawing { title, width, height, scale, shapes: sheet.shapes }, placed, no_spot }
}

struct Sheet<'a> {
    words: &'a Words<'a>,
    date: NaiveDate,
    scale: Scale,
    shapes: Vec<Shape>,
    on_shelf: BTreeMap<ShelfId, Vec<(&'a Stay, Spot)>>,
    no_spot: Vec<&'a Stay>,
    lamps: BTreeSet<PlaceId>,
    ids: BTreeMap<String, u32>,
    /// Out by day that day, and in again for the night.
    out_by_day: BTreeSet<TrayKey>,
}

impl<'a> Sheet<'a> {
    fn new(words: &'a Words<'a>, date: NaiveDate, scale: Scale) -> Self {
        let mut on_shelf: BTreeMap<ShelfId, Vec<(&Stay, Spot)>> = BTreeMap::new();
        let mut no_spot = Vec::new();
        for stay in words.forecast.on(date) {
            let spot = spot_of(words.season, stay, date);
            match spot.filter(|spot| words.season.shelf(spot.shelf).is_some()) {
                Some(spot) => on_shelf.entry(spot.shelf).or_default().push((stay, *spot)),
                None => no_spot.push(stay),
            }
        }
        let out = words.forecast.on(date).filter(|stay| stay.part == PartOfDay::Days);
        let out_by_day = out.flat_map(|stay| stay.trays.iter().copied()).collect();
        let lamps = words.season.places_with_lamps();
        Self { words, date, scale, shapes: Vec::new(), on_shelf, no_spot, lamps, ids: BTreeMap::new(), out_by_day }
    }

    /// So many tenths of a millimetre on paper.
    fn paper(&self, tenths: i64) -> Length {
        self.scale.printed(Length::from_units(tenths * 800))
    }

    fn text(&mut self, class: TextClass, anchor: Anchor, x: Length, y: Length, size: Length, text: impl Into<String>) {
        self.shapes.push(Shape::Text { class, anchor, x, y, size, text: text.into() });
    }

    /// Season, date and scale; gives the line below.
    fn head(&mut self) -> Length {
        let (left, size, small) = (self.paper(30), self.paper(45), self.paper(28));
        let season = cut(self.words.season.name(), size, self.paper(1_500));
        let title = words::map::head(&season, self.date);
        self.text(TextClass::Title, Anchor::Start, left, self.paper(70), size, title);
        let scale = words::map::how_to_read(self.scale);
        self.text(TextClass::Soft, Anchor::Start, left, self.paper(115), small, scale);
        self.paper(185)
    }

    /// What is wanted and what has room; gives the right and the lower edge.
    fn room(&mut self, top: Length, room: &[&Week]) -> (Length, Length) {
        let (left, small, line) = (self.paper(30), self.paper(28), self.paper(40));
        let width = self.scale.printed(PAGE_WIDTH) - left * 2;
        let (mut right, mut y) = (Length::ZERO, top - self.paper(25));
        for of in room {
            let class = if of.verdict == Verdict::Crunch { TextClass::Trouble } else { TextClass::Plain };
            for text in wrap(&self.words.room_on_map(of), small, width) {
                right = right.max(left + text_width(&text, small));
                self.text(class, Anchor::Start, left, y, small, text);
                y += line;
            }
        }
        (right, y + self.paper(25))
    }

    /// Side by side, in as many rows as the page asks for; gives the right and the lower edge.
    fn racks(&mut self, top: Length) -> (Length, Length) {
        let (margin, page) = (self.paper(30), self.scale.printed(PAGE_WIDTH) - self.paper(30));
        let (mut left, mut row, mut right, mut below) = (margin, top, Length::ZERO, top);
        for rack in self.words.season.racks() {
            let shelves = self.words.season.shelves_of(rack.id);
            let width = self.column_width(&shelves);
            // Depths are written to the left of the shelves.
            let mut x = left + self.paper(110);
            if left > margin && x + width > page {
                (x, row) = (margin + self.paper(110), below + self.paper(50));
            }
            below = below.max(self.rack(rack, &shelves, (x, row), width));
            right = right.max(x + width);
            left = x + width + self.paper(40);
        }
        if self.words.season.racks().is_empty() {
            let (size, y) = (self.paper(30), top + self.paper(50));
            self.text(TextClass::Plain, Anchor::Start, left, y, size, words::map::NO_SHELVES);
            below = y + self.paper(30);
        }
        (right, below)
    }

    fn column_width(&self, shelves: &[&Shelf]) -> Length {
        let ends = shelves.iter().flat_map(|shelf| {
            let zones = shelf.zones.iter().map(|zone| zone.x.value() + zone.width.value());
            zones.chain([shelf.width.value()])
        });
        ends.max().unwrap_or(Length::ZERO).max(self.paper(300))
    }

    /// Gives its lower edge.
    fn rack(&mut self, rack: &Rack, shelves: &[&Shelf], (x, top): (Length, Length), width: Length) -> Length {
        let place = self.words.season.place(rack.place);
        let (size, small) = (self.paper(34), self.paper(26));
        let place_name = place.map_or("", |place| place.name.as_str());
        self.text(TextClass::Title, Anchor::Start, x, top, size, cut(&rack.name, size, width));
        if place_name != rack.name {
            let name = cut(place_name, small, width);
            self.text(TextClass::Soft, Anchor::Start, x, top + self.paper(38), small, name);
        }
        let mut y = top + self.paper(50);
        for shelf in shelves {
            let number = if shelves.len() == 1 { String::new() } else { words::map::shelf(shelf.tier) };
            y = self.shelf(shelf, number, place, (x, y), width) + self.paper(30);
        }
        if let Some(widest) = shelves.iter().map(|shelf| shelf.width.value()).max() {
            self.ruler((x, y), widest);
            y += self.paper(50);
        }
        y
    }

    /// Gives its lower edge.
    fn shelf(
        &mut self,
        board: &Shelf,
        number: String,
        place: Option<&Place>,
        (x, y): (Length, Length),
        room: Length,
    ) -> Length {
        let small = self.paper(26);
        let (width, depth) = (board.width.value(), board.depth.value());
        let overhang = board.overhang.value();
        let height = board.clear_height.as_ref().map(|height| words::map::high(height.typed()));
        let remarks = [number].into_iter().chain(height).chain(self.remarks(board, place));
        let remarks: Vec<String> = remarks.filter(|remark| !remark.is_empty()).collect();
        let label = remarks.join(", ");
        let mut top = y;
        for line in wrap(&label, small, room) {
            top += self.paper(32);
            self.text(TextClass::Plain, Anchor::Start, x, top, small, line);
        }
        top += self.paper(12);

        self.shapes.push(Shape::Rect {
            class: Class::Shelf,
            family: None,
            id: format!("shelf-{}", board.id),
            title: format!("{}: {} × {}", self.words.shelf(board.id), board.width.typed(), board.depth.typed()),
            x,
            y: top,
            width,
            height: depth,
        });
        self.depth_mark(board, x, top);
        for zone in &board.zones {
            self.zone(zone, (x, top));
        }
        if overhang > Length::ZERO {
            self.shapes.push(Shape::rect(Class::Overhang, x, top + depth, width, overhang));
        }
        let sticks_out = self.trays(board, (x, top));
        let mut below = top + depth + overhang.max(sticks_out);
        if sticks_out > Length::ZERO {
            below += self.paper(32);
            let text = words::map::into_the_aisle(&self.words.length(sticks_out));
            self.text(TextClass::Trouble, Anchor::End, x + width, below, small, text);
        }
        below
    }

    /// What words say better than lines.
    fn remarks(&self, board: &Shelf, place: Option<&Place>) -> Vec<String> {
        let mut remarks = Vec::new();
        let shut = board.closed.iter().any(|span| span.contains(self.date));
        let not_open =
            |place: &Place| !place.open.is_empty() && !place.open.iter().any(|span| span.contains(self.date));
        if shut || place.is_some_and(not_open) {
            remarks.push(words::map::CLOSED.to_owned());
        }
        match place.map(|place| place.part) {
            Some(PartOfDay::Days) => remarks.push(words::map::BY_DAY.to_owned()),
            Some(PartOfDay::Nights) => remarks.push(words::map::BY_NIGHT.to_owned()),
            Some(PartOfDay::Whole) | None => {}
        }
        // Where all of it is well lit, there is nothing to say.
        let grows = place.filter(|place| place.role == Role::Growing);
        match grows.map(|place| board.lit(place, self.lamps.contains(&place.id))) {
            Some(Lit::Beside) => remarks.push(words::shelves::NO_LAMP.to_owned()),
            Some(Lit::Dark) => remarks.push(words::shelves::DARK.to_owned()),
            Some(Lit::Whole | Lit::UnderLamps) | None => {}
        }
        if board.has(ZoneKind::Heat) {
            remarks.push(words::shelves::HEAT_MAT.to_owned());
        }
        for zone in &board.zones {
            let beyond = zone.x.value() + zone.width.value() - board.width.value();
            if beyond > Length::ZERO {
                remarks.push(words::map::sticks_out(zone.kind, &self.words.length(beyond)));
            }
        }
        remarks
    }

    /// The shelf's depth beside it, and which edge is the front.
    fn depth_mark(&mut self, board: &Shelf, x: Length, y: Length) {
        let (small, depth) = (self.paper(24), board.depth.value());
        let (line, tick) = (x - self.paper(22), self.paper(8));
        self.shapes.push(Shape::lines(
            Class::Ruler,
            vec![
                ((line, y), (line, y + depth)),
                ((line - tick, y), (line + tick, y)),
                ((line - tick, y + depth), (line + tick, y + depth)),
            ],
        ));
        let (end, middle) = (line - tick - self.paper(4), y + depth / 2 + small / 3);
        let text = board.depth.typed().to_owned();
        self.text(TextClass::Soft, Anchor::End, end, middle, small, cut(&text, small, self.paper(90)));
        if depth >= small * 4 {
            self.text(TextClass::Soft, Anchor::End, end, y + depth, small, words::map::FRONT);
        }
    }

    fn zone(&mut self, zone: &Zone, (x, y): (Length, Length)) {
        let (x, y) = (x + zone.x.value(), y + zone.y.value());
        let (width, depth) = (zone.width.value(), zone.depth.value());
        match zone.kind {
            ZoneKind::Lamp => self.shapes.push(Shape::rect(Class::Lamp, x, y, width, depth)),
            ZoneKind::Heat => {
                self.shapes.push(Shape::rect(Class::Mat, x, y, width, depth));
                self.shapes.push(Shape::lines(Class::MatHatch, hatch(x, y, width, depth, self.paper(20))));
            }
        }
    }

    /// Draws what stands on the shelf; gives how far the worst of it sticks out at the front.
    fn trays(&mut self, board: &Shelf, corner: (Length, Length)) -> Length {
        let standing: Vec<(&Stay, DrawnStay)> = self
            .on_shelf
            .get(&board.id)
            .into_iter()
            .flatten()
            .map(|(stay, spot)| (*stay, DrawnStay::new(stay, spot, corner)))
            .collect();
        let room = (corner.0 + board.width.value(), corner.1 + board.usable_depth());
        let gap = self.words.season.settings().gap.value();
        self.shapes.extend(standing.iter().filter_map(|(stay, place)| stays::gap(stay, place, gap, room)));
        let front = corner.1 + board.depth.value();
        let mut sticks_out = Length::ZERO;
        for (stay, place) in &standing {
            let family = self.family(stay);
            let id = stay.tray().map_or_else(String::new, |tray| self.only_once(stays::id(tray)));
            let away = stay.tray().filter(|tray| self.out_by_day.contains(tray)).map(|_| match stay.part {
                PartOfDay::Days => words::map::IN_BY_NIGHT,
                PartOfDay::Nights | PartOfDay::Whole => words::map::OUT_BY_DAY,
            });
            let label = Label { words: self.words, scale: self.scale, away };
            self.shapes.extend(stays::shapes(stay, place, family, id, &label));
            sticks_out = sticks_out.max(place.front() - front);
        }
        sticks_out
    }

    fn family(&self, stay: &Stay) -> Family {
        match stays::family_of(self.words, stay) {
            "" => Family::OTHER,
            family => Family::named(family),
        }
    }

    /// A tray that is out by day and in by night is drawn twice on one day.
    fn only_once(&mut self, id: String) -> String {
        let times = self.ids.entry(id.clone()).or_default();
        *times += 1;
        if *times == 1 { id } else { format!("{id}-again-{times}") }
    }

    fn ruler(&mut self, (x, y): (Length, Length), length: Length) {
        let (small, unit) = (self.paper(24), self.words.unit);
        let (step, sign) = ruler_step(unit, self.paper(80));
        let mut lines = vec![((x, y), (x + length, y))];
        let shown = if unit == LengthUnit::Millimetre { LengthUnit::Centimetre } else { unit };
        let mut at = Length::ZERO;
        while at <= length {
            lines.push(((x + at, y), (x + at, y + self.paper(14))));
            let number = at.number(shown);
            self.text(TextClass::Soft, Anchor::Middle, x + at, y + self.paper(42), small, number);
            at += step;
        }
        self.shapes.push(Shape::lines(Class::Ruler, lines));
        let end = x + (at - step) + self.paper(40);
        self.text(TextClass::Soft, Anchor::Start, end, y + self.paper(42), small, sign);
    }

    /// Families, and what has no spot; gives the lower edge.
    fn foot(&mut self, top: Length, width: Length) -> Length {
        let (left, size, line) = (self.paper(30), self.paper(28), self.paper(40));
        let room = width - left * 2;
        let mut y = top + self.paper(35);
        let mut x = left;
        let shown: BTreeSet<Family> = self.on_shelf.values().flatten().map(|(stay, _)| self.family(stay)).collect();
        for family in shown {
            let name = words::family(family.name());
            let needed = self.paper(60) + text_width(name, size);
            if x > left && x + needed > left + room {
                x = left;
                y += line;
            }
            self.shapes.push(Shape::Rect {
                class: Class::Swatch,
                family: Some(family),
                id: String::new(),
                title: String::new(),
                x,
                y: y - self.paper(26),
                width: self.paper(36),
                height: self.paper(30),
            });
            self.text(TextClass::Plain, Anchor::Start, x + self.paper(46), y, size, name);
            x += needed + self.paper(40);
        }
        if x > left {
            y += line + self.paper(10);
        }
        for (wanted, marks) in self.no_spot() {
            for line_of_text in wrap(&words::map::no_spot_yet(&wanted, &marks), size, room) {
                self.text(TextClass::Trouble, Anchor::Start, left, y, size, line_of_text);
                y += line;
            }
        }
        let small = self.paper(22);
        for line_of_text in wrap(&words::cautions::brief(&self.cares()), small, room) {
            self.text(TextClass::Soft, Anchor::Start, left, y, small, line_of_text);
            y += self.paper(30);
        }
        y
    }

    /// What to take care with, of all that is drawn.
    fn cares(&self) -> Vec<Care> {
        let season = self.words.season;
        let drawn = |care: &Care| match care {
            Care::Power => season.shelves().any(|shelf| !shelf.zones.is_empty()),
            Care::Houses => season.places().any(|place| place.role == Role::Hardening),
            Care::Ways => season.places().any(|place| place.floor.is_some()),
            Care::Load | Care::Mix => true,
        };
        Care::ALL.into_iter().filter(drawn).collect()
    }

    /// Marks by the shelves they want.
    fn no_spot(&self) -> Vec<(String, Vec<String>)> {
        let mut wanted: BTreeMap<PoolKind, Vec<String>> = BTreeMap::new();
        for stay in &self.no_spot {
            let kind = if stay.needs.heat { PoolKind::BottomHeat } else { PoolKind::Of(stay.needs.role) };
            wanted.entry(kind).or_default().push(stays::short_mark(stay, self.words));
        }
        let name = |kind| self.words.pool(&Pool { kind, places: Vec::new() });
        wanted.into_iter().map(|(kind, marks)| (name(kind), marks)).collect()
    }
}

/// From label to label, the shortest round step that leaves them room.
fn ruler_step(unit: LengthUnit, room: Length) -> (Length, &'static str) {
    let (steps, sign): (&[i64], _) = match unit {
        LengthUnit::Inch | LengthUnit::Foot => (&[6, 12, 24, 48, 120, 240, 480], "in"),
        LengthUnit::Millimetre | LengthUnit::Centimetre => (&[10, 20, 50, 100, 200, 500, 1000], "cm"),
        LengthUnit::Metre => (&[1, 2, 5, 10], "m"),
    };
    let one = Length::from_units(match sign {
        "in" => 203_200,
        "cm" => 80_000,
        _ => 8_000_000,
    });
    let fits = steps.iter().map(|step| one * *step).find(|step| *step >= room);
    (fits.or(steps.last().map(|step| one * *step)).unwrap_or(one), sign)
}

/// Lines at half a right angle across a rectangle.
fn hatch(
    x: Length,
    y: Length,
    width: Length,
    depth: Length,
    step: Length,
) -> Vec<((Length, Length), (Length, Length))> {
    let mut lines = Vec::new();
    let mut sum = step;
    while step > Length::ZERO && sum < width + depth {
        // All points of one line have the same sum of distances from the corner.
        let (from, to) = (sum.min(width), (sum - depth).max(Length::ZERO));
        lines.push(((x + from, y + sum - from), (x + to, y + sum - to)));
        sum += step;
    }
    lines
}
