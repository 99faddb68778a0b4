#pragma once

#include <string>
#include <string_view>

#include "src/report/svg.hpp"

namespace linewood {

/// Looks shared by the drawings. Every class and pattern id begins with `lw-`, so that several drawings
/// can stand inside one page. Dash and hatch carry the meaning; the hues are told apart by people who
/// do not see red or green, and differ in lightness. Looks are classes, never `style` attributes, which the pages' content
/// security policy forbids.
inline constexpr std::string_view kDrawingStyle =
    "  text{font-family:Arial,Helvetica,'DejaVu Sans',sans-serif;font-size:15px;fill:#111}\n"
    "  .lw-title{font-size:22px;font-weight:bold}\n"
    "  .lw-sub{font-size:16px;fill:#333}\n"
    "  .lw-head{font-size:16px;font-weight:bold}\n"
    "  .lw-small{font-size:14px}\n"
    "  .lw-bold{font-weight:bold}\n"
    "  .lw-rust{fill:#7a2800}\n"
    "  .lw-page{fill:#fff}\n"
    "  .lw-wood{fill:url(#lw-hatch);stroke:#111;stroke-width:2.2;stroke-linejoin:round}\n"
    "  .lw-lost{fill:url(#lw-sparse);stroke:#111;stroke-width:1.6;stroke-dasharray:5 3;"
    "stroke-linejoin:round}\n"
    "  .lw-void{fill:url(#lw-rot);stroke:#111;stroke-width:1}\n"
    "  .lw-pocket{fill:#fff;stroke:#111;stroke-width:1;stroke-dasharray:2 2}\n"
    "  .lw-present{fill:none;stroke:#111;stroke-width:1;stroke-dasharray:2 3}\n"
    "  .lw-original{fill:none;stroke:#444;stroke-width:1.6;stroke-dasharray:9 5}\n"
    "  .lw-thin{fill:none;stroke:#111;stroke-width:1}\n"
    "  .lw-level{fill:none;stroke:#111;stroke-width:2}\n"
    "  .lw-sound{fill:#f0dfc0;stroke:#111;stroke-width:1}\n"
    "  .lw-notch{fill:#fff;stroke:#111;stroke-width:1}\n"
    "  .lw-line{fill:none;stroke:#111;stroke-width:1.8;stroke-dasharray:16 4 3 4}\n"
    "  .lw-across{fill:none;stroke:#111;stroke-width:1.4;stroke-dasharray:1.5 4;"
    "stroke-linecap:round}\n"
    "  .lw-inline{fill:#333;stroke:#111;stroke-width:1}\n"
    "  .lw-outofline{fill:#fff;stroke:#111;stroke-width:1.4}\n"
    "  .lw-bore{fill:none;stroke:#111;stroke-width:2.4}\n"
    "  .lw-unsure{fill:none;stroke:#111;stroke-width:2.4;stroke-dasharray:4 3}\n"
    "  .lw-halo{fill:none;stroke:#fff;stroke-width:6}\n"
    "  .lw-slim-halo{fill:none;stroke:#fff;stroke-width:3}\n"
    "  .lw-dot{fill:#111;stroke:#fff;stroke-width:1.2}\n"
    "  .lw-ring{fill:#fff;stroke:#111;stroke-width:2}\n"
    "  .lw-curve{fill:none;stroke:#0060a0;stroke-width:3.4;stroke-linejoin:round}\n"
    "  .lw-full{fill:none;stroke:#111;stroke-width:1.2}\n"
    "  .lw-limit{fill:none;stroke:#c04d00;stroke-width:2.8;stroke-dasharray:4 3}\n"
    "  .lw-limit2{fill:none;stroke:#c04d00;stroke-width:2.2;stroke-dasharray:8 3 2 3 2 3}\n"
    "  .lw-solid{fill:#111;stroke:none}\n"
    "  .lw-badge{fill:#fff;stroke:#111;stroke-width:1.3}\n"
    "  .lw-rule{fill:none;stroke:#999;stroke-width:1}\n"
    "  .lw-ground{fill:url(#lw-soil);stroke:none}\n"
    "  .lw-zone{fill:#e4e4e4;stroke:none}\n";

/// The hatches the style refers to.
void define_hatches(SvgWriter& svg);

}  // namespace linewood
