//! From the template and its data to a PDF: the only file that knows how pages are typeset.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World, WorldExt};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use crate::SheetError;

/// The sheet's own template.
const TEMPLATE: &str = include_str!("sheet.typ");
/// Lettering of the sheet, found before the fonts of the typesetting crate.
const LETTERING: [fn() -> &'static [u8]; 2] = [dejavu::sans_condensed::regular, dejavu::sans_condensed::bold];
/// Sheets for which the typesetter remembers what it worked out.
const REMEMBERED_SHEETS: usize = 4;

/// Files that the template reads, by name.
pub(crate) type Files = BTreeMap<String, Vec<u8>>;

/// A sheet as it comes from the press.
pub(crate) struct Printed {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// Whether it was written as PDF/UA-1.
    pub accessible: bool,
    /// What the typesetter remarked.
    pub remarks: Vec<String>,
}

/// Typesets the template with these files.
pub(crate) fn print(files: Files) -> Result<Printed, SheetError> {
    let desk = Desk::new(files);
    let typeset = typst::compile::<PagedDocument>(&desk);
    let remarks = said(&typeset.warnings, &desk);
    let document = typeset.output.map_err(|faults| SheetError::Typesetting(said(&faults, &desk).join("; ")))?;
    let printed = pdf(&document, remarks, &desk);
    typst::comemo::evict(REMEMBERED_SHEETS);
    printed
}

/// As PDF/UA-1 where the text allows it; some scripts do not, and a tagged PDF is still better than none.
fn pdf(document: &PagedDocument, mut remarks: Vec<String>, desk: &Desk) -> Result<Printed, SheetError> {
    let accessible = options(&[PdfStandard::Ua_1])?;
    match typst_pdf::pdf(document, &accessible) {
        Ok(pdf) => Ok(Printed { pdf, accessible: true, remarks }),
        Err(faults) => {
            remarks.extend(said(&faults, desk));
            let tagged = options(&[])?;
            let pdf = typst_pdf::pdf(document, &tagged);
            let pdf = pdf.map_err(|faults| SheetError::Typesetting(said(&faults, desk).join("; ")))?;
            Ok(Printed { pdf, accessible: false, remarks })
        }
    }
}

fn options(standards: &[PdfStandard]) -> Result<PdfOptions, SheetError> {
    let standards = PdfStandards::new(standards).map_err(|why| SheetError::Typesetting(why.message().to_string()))?;
    Ok(PdfOptions { creator: Smart::Custom(Some("Turnwright".to_string())), standards, ..PdfOptions::default() })
}

/// Each once, with its line of the template.
fn said(faults: &[SourceDiagnostic], desk: &Desk) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for fault in faults {
        let at = desk.range(fault.span).and_then(|range| TEMPLATE.get(..range.start));
        let line = at.map_or_else(String::new, |before| format!(" (sheet.typ, line {})", before.lines().count()));
        let says = format!("{}{line}", fault.message);
        if !said.contains(&says) {
            said.push(says);
        }
    }
    said
}

/// Whether any font of the sheet has this letter.
pub(crate) fn has_letter(letter: char) -> bool {
    let code = u32::from(letter);
    let book = &fonts().book;
    (0..fonts().fonts.len()).filter_map(|at| book.info(at)).any(|info| info.coverage.contains(code))
}

struct Fonts {
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

fn fonts() -> &'static Fonts {
    static FONTS: OnceLock<Fonts> = OnceLock::new();
    FONTS.get_or_init(|| {
        let files = LETTERING.into_iter().map(|font| font()).chain(typst_assets::fonts());
        let fonts: Vec<Font> = files.flat_map(|bytes| Font::iter(Bytes::new(bytes))).collect();
        Fonts { book: LazyHash::new(FontBook::from_fonts(&fonts)), fonts }
    })
}

fn library() -> &'static LazyHash<Library> {
    static LIBRARY: OnceLock<LazyHash<Library>> = OnceLock::new();
    LIBRARY.get_or_init(|| LazyHash::new(<Library as LibraryExt>::default()))
}

/// What the typesetter may reach: the template and the given files; no disk, no clock, no network.
struct Desk {
    main: Source,
    files: BTreeMap<String, Bytes>,
}

impl Desk {
    fn new(files: Files) -> Self {
        let main = Source::new(id("sheet.typ"), TEMPLATE.to_string());
        Desk { main, files: files.into_iter().map(|(name, bytes)| (name, Bytes::new(bytes))).collect() }
    }
}

fn id(name: &str) -> FileId {
    let path = VirtualPath::new(name).expect("names of the sheet's files are plain words");
    RootedPath::new(VirtualRoot::Project, path).intern()
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        library()
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &fonts().book
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main.id() { Ok(self.main.clone()) } else { Err(missing(id)) }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.files.get(id.get().vpath().get_without_slash()).cloned().ok_or_else(|| missing(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        fonts().fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn missing(id: FileId) -> FileError {
    FileError::NotFound(id.get().vpath().get_without_slash().into())
}

#[cfg(test)]
mod tests {
    use typst::layout::{Frame, FrameItem};
    use typst::visualize::{Paint, Shape};

    use super::*;
    use crate::content;
    use crate::setting::Setting;

    /// Thinnest line, mm, and palest ink under lettering, as a share of white: what a photocopier keeps.
    const THINNEST_MM: f64 = 0.18;
    const DARKEST_FILL: f32 = 0.9;
    /// Lowest capitals, mm.
    const LOWEST_MM: f64 = 2.5;

    fn demo() -> Files {
        let job = formats::job::read(formats::builtin::demo_job_text(), "job").unwrap();
        let shop = formats::shop::read_together(&[(formats::builtin::shop_text(), "shop")]).unwrap();
        let plan = engine::plan(&job.job, &shop.shop).unwrap();
        content::files(&[plan], &Setting::default()).0
    }

    fn each(frame: &Frame, seen: &mut impl FnMut(&FrameItem)) {
        for (_, item) in frame.items() {
            if let FrameItem::Group(group) = item {
                each(&group.frame, seen);
            }
            seen(item);
        }
    }

    fn lightness(paint: &Paint) -> f32 {
        match paint {
            Paint::Solid(color) => color.to_luma().luma,
            _ => panic!("gradients and patterns are not for paper"),
        }
    }

    #[test]
    fn a_photocopier_keeps_every_line_and_every_letter() {
        let desk = Desk::new(demo());
        let document = typst::compile::<PagedDocument>(&desk).output.unwrap();
        let (mut lines, mut letters) = (0, 0);
        let mut judge = |item: &FrameItem| match item {
            FrameItem::Shape(shape, _) => {
                if let Some(stroke) = &shape.stroke {
                    lines += 1;
                    assert!(stroke.thickness.to_mm() >= THINNEST_MM - 1e-6, "{} mm", stroke.thickness.to_mm());
                    assert!(lightness(&stroke.paint) == 0.0);
                }
                // A thick bar is a line; nothing is written on it.
                assert!(shape.fill.as_ref().is_none_or(|fill| lightness(fill) >= DARKEST_FILL || is_bar(shape)));
            }
            FrameItem::Text(text) => {
                letters += text.glyphs.len();
                let capitals_mm = text.font.metrics().cap_height.at(text.size).to_mm();
                // Mathematics sets exponents and indices lower, as it must.
                let mathematics = text.font.info().family.contains("Math");
                assert!(mathematics || capitals_mm >= LOWEST_MM - 0.01, "{}: {capitals_mm} mm", text.text);
                assert!(lightness(&text.fill) == 0.0);
            }
            _ => {}
        };
        document.pages().iter().for_each(|page| each(&page.frame, &mut judge));
        assert!(lines > 500 && letters > 10_000, "{lines} lines, {letters} letters");
    }

    fn is_bar(shape: &Shape) -> bool {
        let size = shape.geometry.bbox(None).size();
        size.x.to_mm().min(size.y.to_mm()) <= 1.3
    }

    #[test]
    fn pictures_keep_the_same_lines() {
        let files = demo();
        let mut lines = 0;
        for (name, bytes) in files.iter().filter(|(name, _)| name.ends_with(".svg")) {
            let svg = std::str::from_utf8(bytes).unwrap();
            for width in svg.split("stroke-width=\"").skip(1) {
                let width: f64 = width.split('"').next().unwrap().parse().unwrap();
                assert!(width >= THINNEST_MM - 1e-9, "{name}: {width} mm");
                lines += 1;
            }
        }
        assert!(lines > 100, "{lines} widths");
    }

    #[test]
    fn a_fault_of_the_template_names_its_line() {
        let fault = print(Files::new()).map(|_| ()).unwrap_err();
        assert!(fault.to_string().contains("sheet.typ, line"), "{fault}");
    }
}
