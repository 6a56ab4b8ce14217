//! Where things stand on a sheet, and moving and turning them.

use super::typeface::{CAP_HEIGHT, DESCENT};
use super::{Item, Outline, Scale, Sheet, Spot, Text};

/// An upright box on a sheet, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// From the sheet's left edge.
    pub left: f64,
    /// From the sheet's top edge.
    pub top: f64,
    /// From the sheet's left edge.
    pub right: f64,
    /// From the sheet's top edge.
    pub bottom: f64,
}

impl Bounds {
    /// The least box that holds all points; `None` where there are none.
    #[must_use]
    pub fn of(points: impl IntoIterator<Item = Spot>) -> Option<Bounds> {
        points.into_iter().map(|[x, y]| Bounds { left: x, top: y, right: x, bottom: y }).reduce(Bounds::with)
    }

    /// The least box that holds both.
    #[must_use]
    pub fn with(self, other: Bounds) -> Bounds {
        Bounds {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// mm.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// Its middle.
    #[must_use]
    pub fn middle(&self) -> Spot {
        [0.5 * (self.left + self.right), 0.5 * (self.top + self.bottom)]
    }

    /// Larger by `mm` on every side; smaller where that is negative.
    #[must_use]
    pub fn grown(&self, mm: f64) -> Bounds {
        Bounds { left: self.left - mm, top: self.top - mm, right: self.right + mm, bottom: self.bottom + mm }
    }

    /// Whether all of `other` lies in it.
    #[must_use]
    pub fn holds(&self, other: &Bounds) -> bool {
        other.left >= self.left && other.right <= self.right && other.top >= self.top && other.bottom <= self.bottom
    }

    /// Whether the two have more than an edge in common.
    #[must_use]
    pub fn meets(&self, other: &Bounds) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.bottom && other.top < self.bottom
    }

    /// Its corners, once round from the top left.
    #[must_use]
    pub fn corners(&self) -> [Spot; 4] {
        [[self.left, self.top], [self.right, self.top], [self.right, self.bottom], [self.left, self.bottom]]
    }
}

/// A way of laying one sheet on another: turned a quarter anticlockwise or not, then moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// Turned a quarter anticlockwise about the sheet's top left corner first.
    pub turned: bool,
    /// Then moved so far right and down, mm.
    pub by: Spot,
}

impl Move {
    /// Only moved.
    #[must_use]
    pub const fn by(by: Spot) -> Move {
        Move { turned: false, by }
    }

    fn spot(self, [x, y]: Spot) -> Spot {
        let [x, y] = if self.turned { [y, -x] } else { [x, y] };
        [x + self.by[0], y + self.by[1]]
    }
}

impl Item {
    /// The least upright box that holds it, pens left out; `None` for a shape without points.
    #[must_use]
    pub fn bounds(&self) -> Option<Bounds> {
        match self {
            Item::Text(text) => Some(text.bounds()),
            Item::Shape(shape) => match &shape.outline {
                Outline::Line(points) | Outline::Polygon(points) => Bounds::of(points.iter().copied()),
                Outline::Circle { at: [x, y], radius: r } => {
                    Some(Bounds { left: x - r, top: y - r, right: x + r, bottom: y + r })
                }
            },
        }
    }

    /// It, laid elsewhere.
    #[must_use]
    pub fn moved(&self, way: Move) -> Item {
        let mut item = self.clone();
        match &mut item {
            Item::Text(text) => {
                text.at = way.spot(text.at);
                text.rotation += if way.turned { std::f64::consts::FRAC_PI_2 } else { 0.0 };
            }
            Item::Shape(shape) => match &mut shape.outline {
                Outline::Line(points) | Outline::Polygon(points) => points.iter_mut().for_each(|p| *p = way.spot(*p)),
                Outline::Circle { at, .. } => *at = way.spot(*at),
            },
        }
        item
    }
}

impl Text {
    /// The least upright box that holds its capitals and what hangs below the line.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        let size = self.runs.iter().map(|r| r.size).fold(0.0, f64::max);
        let (sin, cos) = self.rotation.sin_cos();
        let corner = |along: f64, up: f64| [self.at[0] + along * cos - up * sin, self.at[1] - along * sin - up * cos];
        let (up, down) = (CAP_HEIGHT * size, -DESCENT * size);
        let [x, y] = corner(0.0, down);
        let start = Bounds { left: x, top: y, right: x, bottom: y };
        [corner(self.width, down), corner(self.width, up), corner(0.0, up)]
            .into_iter()
            .fold(start, |b, [x, y]| b.with(Bounds { left: x, top: y, right: x, bottom: y }))
    }
}

impl Sheet {
    /// The least box that holds everything on the layers that `on` lets through.
    #[must_use]
    pub fn bounds(&self, on: impl Fn(&str) -> bool) -> Option<Bounds> {
        let items = self.layers.iter().filter(|l| on(l.name)).flat_map(|l| &l.items);
        items.filter_map(Item::bounds).reduce(Bounds::with)
    }

    /// Lays all of `other` on this sheet, layer by layer; its measured box is this sheet's if this has none.
    pub fn lay(&mut self, other: &Sheet, way: Move) {
        for layer in &other.layers {
            layer.items.iter().for_each(|item| self.put(layer.name, item.moved(way)));
        }
        if let (Scale::None, Scale::Measured { at: [x, y], size: [w, h] }) = (&self.scale, &other.scale) {
            let corners = [way.spot([*x, *y]), way.spot([x + w, y + h])];
            if let Some(b) = Bounds::of(corners) {
                self.scale = Scale::Measured { at: [b.left, b.top], size: [b.width(), b.height()] };
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::typeface::Type;
    use crate::drawing::words::{self, Style};
    use crate::drawing::{Anchor, Colour, Face};

    #[test]
    fn turned_text_is_as_tall_as_it_was_wide() {
        let t = Type::embedded().expect("embedded faces");
        let style = Style { size: 5.0, face: Face::Bold, colour: Colour(0, 0, 0) };
        let line = words::line(&t, style, [100.0, 10.0], Anchor::Left, "Mould 4");
        let level = line.bounds().unwrap();
        let up = line.moved(Move { turned: true, by: [0.0, 300.0] }).bounds().unwrap();
        assert!((up.height() - level.width()).abs() < 1e-9 && (up.width() - level.height()).abs() < 1e-9);
        // A quarter anticlockwise: what was lower is now further right, what was further right is now higher.
        assert!((up.right - level.bottom).abs() < 1e-9 && (up.top - (300.0 - level.right)).abs() < 1e-9);
    }
}
