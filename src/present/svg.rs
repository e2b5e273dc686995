//! A sheet as SVG. Coordinates have two decimals, so that every machine writes the same bytes;
//! text is set in whatever sans-serif the viewer has.

use super::drawing::sheet::{Fill, Label, Shape, Sheet, Stroke};
use super::printable::REPLACEMENT;
use super::reading_order::isolated;
use num_traits::ToPrimitive;

/// The sheet as one SVG file.
#[must_use]
pub fn write(sheet: &Sheet) -> String {
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{}",
        element(sheet)
    )
}

/// The sheet as an element that can stand in a file of another kind.
#[must_use]
pub fn element(sheet: &Sheet) -> String {
    let (width, height) = (number(sheet.width), number(sheet.height));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" stroke-linejoin=\"round\">\n\
         <title>{}</title>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>\n",
        escaped(&sheet.title)
    );
    for shape in &sheet.shapes {
        out.push_str(&drawn(shape));
        out.push('\n');
    }
    out.push_str("</svg>\n");
    out
}

fn drawn(shape: &Shape) -> String {
    match shape {
        Shape::Path { points, stroke } => {
            let points: Vec<String> = points
                .iter()
                .map(|(x, y)| format!("{},{}", number(*x), number(*y)))
                .collect();
            let points = points.join(" ");
            format!(
                "<polyline points=\"{points}\" fill=\"none\" {}/>",
                pen(*stroke)
            )
        }
        Shape::Box {
            bounds,
            fill,
            stroke,
        } => format!(
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{}\" {}/>",
            number(bounds.left),
            number(bounds.top),
            number(bounds.width),
            number(bounds.height),
            paint(*fill),
            pen(*stroke)
        ),
        Shape::Dot { at, fill } => format!(
            "<circle cx=\"{}\" cy=\"{}\" r=\"3.00\" fill=\"{}\" {}/>",
            number(at.0),
            number(at.1),
            paint(*fill),
            pen(Stroke::Plain)
        ),
        Shape::Text(label) => text(label),
    }
}

fn text(label: &Label) -> String {
    let weight = if label.bold {
        " font-weight=\"bold\""
    } else {
        ""
    };
    format!(
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{weight}>{}</text>",
        number(label.at.0),
        number(label.at.1),
        number(label.size),
        escaped(&isolated(&label.text))
    )
}

fn pen(stroke: Stroke) -> &'static str {
    match stroke {
        Stroke::None => "stroke=\"none\"",
        Stroke::Hair => "stroke=\"#ccc\" stroke-width=\"0.60\"",
        Stroke::Plain => "stroke=\"#000\" stroke-width=\"0.90\"",
        Stroke::Heavy => "stroke=\"#000\" stroke-width=\"1.80\"",
        Stroke::Dashed => "stroke=\"#000\" stroke-width=\"1.80\" stroke-dasharray=\"7 4\"",
        Stroke::Level => "stroke=\"#000\" stroke-width=\"0.90\" stroke-dasharray=\"2 3\"",
        Stroke::Leader => "stroke=\"#888\" stroke-width=\"0.60\" stroke-dasharray=\"1 2\"",
    }
}

fn paint(fill: Fill) -> &'static str {
    match fill {
        Fill::None => "none",
        Fill::Paper => "#fff",
        Fill::Pale => "#eee",
        Fill::Ink => "#000",
    }
}

/// Two decimals, and no minus sign before zero.
fn number(value: f64) -> String {
    // A drawing has thousands of them: whole hundredths are written in a third of the time.
    let Some(hundredths) = (value * 100.0).round().to_i64() else {
        return format!("{value:.2}");
    };
    let sign = if hundredths < 0 { "-" } else { "" };
    let hundredths = hundredths.unsigned_abs();
    format!("{sign}{}.{:02}", hundredths / 100, hundredths % 100)
}

/// Text in which nothing is a mark of XML, nor a character that XML does not allow.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\r' | '\t' => out.push(' '),
            '\u{FFFE}' | '\u{FFFF}' => out.push(REPLACEMENT),
            _ if c.is_control() => out.push(REPLACEMENT),
            _ => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_in_a_name_becomes_markup() {
        assert_eq!(
            escaped("<a href=\"x\">&'\u{1b}"),
            "&lt;a href=&quot;x&quot;&gt;&amp;&#39;\u{FFFD}"
        );
    }

    #[test]
    fn zero_has_no_sign() {
        assert_eq!(number(-0.001), "0.00");
        assert_eq!(number(-0.01), "-0.01");
    }
}
