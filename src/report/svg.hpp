#pragma once

#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace linewood {

/// A number as SVG text: at most two decimals (a hundredth of a pixel), no trailing zeros, no `-0`.
/// @pre v is finite.
std::string svg_number(double v);

/// Text made safe inside an element or a quoted attribute: `& < > " '` as entities, bytes that are no
/// UTF-8 and characters XML does not allow as U+FFFD, tabs and line breaks as spaces.
std::string svg_escape(std::string_view text);

/// `text` cut to at most `most` characters (code points), the last one then an ellipsis.
std::string svg_shortened(std::string_view text, std::size_t most);

/// The value of an attribute: text or a number. Escaped by the writer.
class SvgValue {
public:
    SvgValue(const char* text) : text_{text} {}              // NOLINT(google-explicit-constructor)
    SvgValue(std::string_view text) : text_{text} {}         // NOLINT(google-explicit-constructor)
    SvgValue(std::string text) : text_{std::move(text)} {}   // NOLINT(google-explicit-constructor)
    SvgValue(double number) : text_{svg_number(number)} {}   // NOLINT(google-explicit-constructor)
    SvgValue(int number) : text_{std::to_string(number)} {}  // NOLINT(google-explicit-constructor)
    const std::string& text() const { return text_; }

private:
    std::string text_;
};

struct SvgAttribute {
    std::string_view name;
    SvgValue value;
};
using SvgAttributes = std::initializer_list<SvgAttribute>;

/// A point of the drawing, in user units; x right, y down.
struct SvgPoint {
    double x = 0.0;
    double y = 0.0;
};

/// The `d` of one path of closed rings.
std::string svg_path(const std::vector<std::vector<SvgPoint>>& rings);

/// A file of its own, or a part of a page that has the style and the hatches already.
enum class SvgForm : std::uint8_t { document, fragment };

/// Height of the heading of a document, left away in a fragment.
inline constexpr double kSvgHeading = 72.0;

/// Writes one SVG 1.1 document: no scripts, no links, no fonts or images from elsewhere. With a title
/// and a description for readers who do not see it. The same calls give the same bytes.
///
/// Names of elements and attributes are the program's own words and are written as they are; every
/// value and every text is escaped.
class SvgWriter {
public:
    /// @param width of the viewBox, as @p height; the drawing scales with the page.
    /// As a fragment of an HTML page there is no declaration and no style, and the drawing begins below
    /// `kSvgHeading`: the page has a heading.
    /// @param style the content of one `<style>` element: the program's own, never a user's text.
    SvgWriter(double width,
              double height,
              std::string_view title,
              std::string_view description,
              std::string_view style,
              SvgForm form = SvgForm::document);

    /// The start of an element that only holds definitions for the other drawings of a page.
    static SvgWriter definitions();

    void open(std::string_view name, SvgAttributes attributes = {});
    void close();
    void element(std::string_view name, SvgAttributes attributes);
    void text(SvgPoint at, std::string_view text, SvgAttributes attributes = {});
    void line(SvgPoint from, SvgPoint to, SvgAttributes attributes = {});

    /// Closes what is open and gives the document.
    std::string finish();

private:
    SvgWriter() = default;
    void begin(std::string_view name, SvgAttributes attributes);
    void indent();

    std::string out_;
    std::vector<std::string> open_;
};

}  // namespace linewood
