//! The sheet of paper that pictures are drawn on, and the only place that writes SVG: rounded numbers, escaped texts,
//! lines that differ by their pattern and never by colour alone.

use std::fmt::Write as _;

use super::texts::{COLUMN, escaped, kept, visible, wide};
use crate::render::wrap::wrap;

/// Almost black on white: 17 to 1.
const INK: &str = "#1b1b1b";
/// The margin round everything, in px.
pub(super) const MARGIN: f64 = 16.0;
/// Size of running text.
pub(super) const TEXT: f64 = 13.0;
/// Size of marks within a drawing.
pub(super) const SMALL: f64 = 11.0;

/// How a line is dashed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Dash {
    Solid,
    Long,
    Short,
    Dots,
    Axis,
}

impl Dash {
    const fn array(self) -> &'static str {
        match self {
            Self::Solid => "",
            Self::Long => "10 3",
            Self::Short => "4 3",
            Self::Dots => "1.5 3",
            Self::Axis => "9 3 2 3",
        }
    }
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pen {
    pub(super) width: f64,
    pub(super) dash: Dash,
}

impl Pen {
    pub(super) const THIN: Self = Self { width: 0.7, dash: Dash::Solid };
    pub(super) const PLAIN: Self = Self { width: 1.1, dash: Dash::Solid };
    pub(super) const THICK: Self = Self { width: 2.6, dash: Dash::Solid };
    /// What is drawn without its size being given.
    pub(super) const ASSUMED: Self = Self { width: 0.9, dash: Dash::Short };
    pub(super) const AXIS: Self = Self { width: 0.8, dash: Dash::Axis };

    /// That of an outline, by whether its sizes are given.
    pub(super) const fn of(given: bool) -> Self {
        if given { Self::PLAIN } else { Self::ASSUMED }
    }
}

/// What fills a shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fill {
    None,
    Paper,
    Ink,
    /// Thin lines rising to the right.
    Rising,
    /// Thin level lines.
    Level,
    /// Dots.
    Stipple,
    /// Thin lines falling to the right, closer.
    Falling,
    /// Both ways: too much.
    Crossed,
}

/// Where a text stands from its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// A sheet of paper.
pub(super) struct Canvas {
    pub(super) width: f64,
    /// How far down it is filled.
    pub(super) y: f64,
    body: String,
    /// Before every id, so that several pictures may stand in one page.
    prefix: String,
    /// What is told in words, in order.
    pub(super) said: Vec<String>,
}

impl Canvas {
    pub(super) fn new(width: f64, prefix: String) -> Self {
        Self { width, y: MARGIN - 16.0, body: String::new(), prefix, said: Vec::new() }
    }

    fn write(&mut self, text: std::fmt::Arguments<'_>) {
        // Writing to a String cannot fail.
        let _ = self.body.write_fmt(text);
        self.body.push('\n');
    }

    fn fill(&self, fill: Fill) -> String {
        let name = match fill {
            Fill::None => return "none".to_owned(),
            Fill::Paper => return "#ffffff".to_owned(),
            Fill::Ink => return INK.to_owned(),
            Fill::Rising => "rising",
            Fill::Level => "level",
            Fill::Stipple => "stipple",
            Fill::Falling => "falling",
            Fill::Crossed => "crossed",
        };
        format!("url(#{}-{name})", self.prefix)
    }

    pub(super) fn line(&mut self, from: (f64, f64), to: (f64, f64), pen: Pen) {
        let pen = stroke(pen);
        let [x1, y1, x2, y2] = [from.0, from.1, to.0, to.1].map(number);
        self.write(format_args!("<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\"{pen}/>"));
    }

    pub(super) fn polyline(&mut self, points: &[(f64, f64)], pen: Pen) {
        let (points, pen) = (list(points), stroke(pen));
        self.write(format_args!("<polyline points=\"{points}\" fill=\"none\" stroke-linejoin=\"round\"{pen}/>"));
    }

    /// A closed shape on white, so that a pattern hides what lies behind.
    pub(super) fn polygon(&mut self, points: &[(f64, f64)], fill: Fill, pen: Pen) {
        let (points, pen) = (list(points), stroke(pen));
        if !matches!(fill, Fill::None | Fill::Paper | Fill::Ink) {
            self.write(format_args!("<polygon points=\"{points}\" fill=\"#ffffff\"/>"));
        }
        let fill = self.fill(fill);
        self.write(format_args!("<polygon points=\"{points}\" fill=\"{fill}\" stroke-linejoin=\"round\"{pen}/>"));
    }

    pub(super) fn rect(&mut self, from: (f64, f64), to: (f64, f64), fill: Fill, pen: Pen) {
        let [x, y] = [from.0.min(to.0), from.1.min(to.1)].map(number);
        let [w, h] = [(to.0 - from.0).abs(), (to.1 - from.1).abs()].map(number);
        let (fill, pen) = (self.fill(fill), stroke(pen));
        self.write(format_args!("<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" fill=\"{fill}\"{pen}/>"));
    }

    pub(super) fn circle(&mut self, at: (f64, f64), radius: f64, fill: Fill, pen: Pen) {
        let [x, y, r] = [at.0, at.1, radius].map(number);
        let (fill, pen) = (self.fill(fill), stroke(pen));
        self.write(format_args!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" fill=\"{fill}\"{pen}/>"));
    }

    /// A short text within a drawing, on a rim of white.
    pub(super) fn mark(&mut self, at: (f64, f64), anchor: Anchor, text: &str) {
        let rim = " stroke=\"#ffffff\" stroke-width=\"3\" stroke-linejoin=\"round\" paint-order=\"stroke\"";
        self.text(at, anchor, SMALL, rim, text);
    }

    fn text(&mut self, at: (f64, f64), anchor: Anchor, size: f64, more: &str, text: &str) {
        let anchor = match anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let ([x, y], size, text) = ([at.0, at.1].map(number), number(size), escaped(text));
        self.write(format_args!("<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\"{anchor}{more}>{text}</text>"));
    }

    /// A letter or number in a ring, its middle here.
    pub(super) fn tag(&mut self, at: (f64, f64), text: &str) {
        let radius = (wide(text, SMALL) / 2.0 + 2.0).max(8.0);
        self.circle(at, radius, Fill::Paper, Pen::THIN);
        self.text((at.0, at.1 + 4.0), Anchor::Middle, SMALL, "", text);
    }

    /// An arrow; its head at its end.
    pub(super) fn arrow(&mut self, from: (f64, f64), to: (f64, f64), width: f64) {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let long = dx.hypot(dy).max(0.1);
        let (ux, uy) = (dx / long, dy / long);
        let back = (to.0 - ux * 7.0, to.1 - uy * 7.0);
        self.line(from, back, Pen { width, dash: Dash::Solid });
        let head = [to, (back.0 - uy * 3.5, back.1 + ux * 3.5), (back.0 + uy * 3.5, back.1 - ux * 3.5)];
        self.polygon(&head, Fill::Ink, Pen::THIN);
    }

    /// A heading over a view.
    pub(super) fn heading(&mut self, text: &str) {
        self.y += 32.0;
        let most = self.columns(16.0, 0.0);
        for line in wrap(&visible(text), most) {
            self.text((MARGIN, self.y), Anchor::Start, 16.0, " font-weight=\"bold\"", &line);
            self.y += 20.0;
        }
    }

    fn columns(&self, size: f64, indent: f64) -> usize {
        let most = ((self.width - 2.0 * MARGIN - indent) / (size * COLUMN)).floor();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 10 and some hundreds")]
        let most = most.clamp(10.0, 1000.0) as usize;
        most
    }

    /// A line of the key, told in the description too: a sign, and what it says in as many lines as it takes.
    pub(super) fn key(&mut self, sign: impl FnOnce(&mut Self, (f64, f64)), text: &str) {
        let indent = 30.0;
        self.y += 6.0;
        sign(self, (MARGIN + 10.0, self.y + 8.0));
        for line in wrap(&kept(&visible(text)), self.columns(TEXT, indent)) {
            self.text((MARGIN + indent, self.y + 12.0), Anchor::Start, TEXT, "", &line);
            self.y += 17.0;
        }
        self.said.push(visible(text));
    }

    /// A line of small print, told in the description where that is asked.
    pub(super) fn print(&mut self, text: &str, told: bool) {
        self.y += 5.0;
        for line in wrap(&kept(&visible(text)), self.columns(SMALL, 0.0)) {
            self.text((MARGIN, self.y + 11.0), Anchor::Start, SMALL, "", &line);
            self.y += 15.0;
        }
        if told {
            self.said.push(visible(text));
        }
    }

    /// The whole picture as a document of its own.
    pub(super) fn finish(self, title: &str) -> String {
        let (width, height) = (number(self.width), number((self.y + MARGIN).ceil()));
        let (id, title) = (&self.prefix, escaped(&visible(title)));
        let said: Vec<String> = self.said.iter().map(|line| escaped(line.trim_end_matches('.'))).collect();
        let said = said.join(". ");
        let mut out = String::new();
        // Writing to a String cannot fail.
        let _ = write!(
            out,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
             viewBox=\"0 0 {width} {height}\" role=\"img\" aria-labelledby=\"{id}-title {id}-desc\" font-family=\"serif\" \
             fill=\"{INK}\">\n<title id=\"{id}-title\">{title}</title>\n<desc id=\"{id}-desc\">{said}.</desc>\n{}\
             <rect x=\"0\" y=\"0\" width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>\n{}</svg>\n",
            patterns(id),
            self.body
        );
        out
    }
}

/// The patterns that fill shapes.
fn patterns(id: &str) -> String {
    let all = [
        ("rising", 7, "<path d=\"M0 7 L7 0\" stroke-width=\"0.5\"/>"),
        ("level", 4, "<path d=\"M0 2 L4 2\" stroke-width=\"0.5\"/>"),
        ("stipple", 5, "<path d=\"M1 1 L2 1 M3.5 3.5 L4.5 3.5\" stroke-width=\"1\"/>"),
        ("falling", 4, "<path d=\"M0 0 L4 4\" stroke-width=\"0.8\"/>"),
        ("crossed", 5, "<path d=\"M0 0 L5 5 M0 5 L5 0\" stroke-width=\"1\"/>"),
    ];
    let mut out = String::from("<defs>\n");
    for (name, size, lines) in all {
        // Writing to a String cannot fail.
        let _ = writeln!(
            out,
            "<pattern id=\"{id}-{name}\" width=\"{size}\" height=\"{size}\" patternUnits=\"userSpaceOnUse\" \
             stroke=\"{INK}\">{lines}</pattern>"
        );
    }
    out + "</defs>\n"
}

fn stroke(pen: Pen) -> String {
    let width = number(pen.width);
    let dash = pen.dash.array();
    let dash = if dash.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{dash}\"") };
    format!(" stroke=\"{INK}\" stroke-width=\"{width}\"{dash}")
}

fn list(points: &[(f64, f64)]) -> String {
    let points: Vec<String> = points.iter().map(|(x, y)| format!("{},{}", number(*x), number(*y))).collect();
    points.join(" ")
}

/// A number with one decimal at the most; nothing that is no number gets through.
fn number(value: f64) -> String {
    let value = if value.is_finite() { (value * 10.0).round() / 10.0 } else { 0.0 };
    // Never a minus before nothing.
    let value = if value == 0.0 { 0.0 } else { value };
    format!("{value}")
}

/// Middles moved apart so that none of these widths overlap, each as near to where it is wanted as the order allows.
pub(super) fn apart(wanted: &[f64], widths: &[f64], (low, high): (f64, f64)) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    let want = |at: usize| wanted.get(at).copied().unwrap_or(low);
    let half = |at: usize| widths.get(at).copied().unwrap_or(0.0) / 2.0;
    order.sort_by(|a, b| want(*a).total_cmp(&want(*b)).then(a.cmp(b)));
    let mut places = vec![0.0; wanted.len()];
    let mut filled = low;
    for at in order.iter().copied() {
        let place = want(at).max(filled + half(at));
        filled = place + half(at);
        if let Some(slot) = places.get_mut(at) {
            *slot = place;
        }
    }
    let mut room = high;
    for at in order.iter().rev().copied() {
        if let Some(slot) = places.get_mut(at) {
            *slot = slot.min(room - half(at));
            room = *slot - half(at);
        }
    }
    places
}

#[cfg(test)]
mod tests {
    use super::{apart, number};

    #[test]
    fn numbers_are_short_and_never_odd() {
        assert_eq!([1.0, -0.01, 12.345, f64::NAN, f64::INFINITY].map(number), ["1", "0", "12.3", "0", "0"]);
    }

    #[test]
    fn marks_are_moved_apart_within_their_room() {
        assert_eq!(apart(&[50.0, 52.0, 10.0], &[20.0, 20.0, 20.0], (0.0, 100.0)), [50.0, 70.0, 10.0]);
        assert_eq!(apart(&[95.0, 96.0], &[20.0, 20.0], (0.0, 100.0)), [70.0, 90.0]);
    }
}
