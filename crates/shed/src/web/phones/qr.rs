//! An address as a QR code, for a page and for a terminal.

use maud::{Markup, html};
use qrcodegen::{QrCode, QrCodeEcc};

/// Light all round that a reader needs, in the squares of the code.
const QUIET: i32 = 4;

/// The code as a drawing. Dark on light whatever the page's colours are: not every reader takes it the other way about.
pub fn drawing(text: &str) -> Option<Markup> {
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).ok()?;
    let wide = code.size() + 2 * QUIET;
    let squares = (0..code.size()).flat_map(|y| (0..code.size()).map(move |x| (x, y)));
    let dark = squares.filter(|(x, y)| code.get_module(*x, *y));
    let path: String = dark.map(|(x, y)| format!("M{} {}h1v1h-1z", x + QUIET, y + QUIET)).collect();
    Some(html! {
        svg.qr viewBox={ "0 0 " (wide) " " (wide) } role="img" aria-label="The address as a QR code" shape-rendering="crispEdges" {
            rect width=(wide) height=(wide) fill="#fff" {}
            path d=(path) fill="#000" {}
        }
    })
}

/// The code as lines of half blocks, two rows of squares a line, light where the terminal writes: most are dark.
pub fn lines(text: &str) -> Option<String> {
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).ok()?;
    let all = -QUIET..code.size() + QUIET;
    let square = |x: i32, y: i32| match (code.get_module(x, y), code.get_module(x, y + 1)) {
        (false, false) => '█',
        (false, true) => '▀',
        (true, false) => '▄',
        (true, true) => ' ',
    };
    let line = |y: i32| all.clone().map(|x| square(x, y)).collect::<String>() + "\n";
    Some(all.clone().step_by(2).map(line).collect())
}
