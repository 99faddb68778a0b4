#include <cstddef>
#include <string>

#include "assess/wood/dimension_table.hpp"
#include "assess/wood/pole_class.hpp"

namespace linewood {
namespace {

struct Row {
    double length_ft;
    double girth_in[kPoleClassCount];  // 0: no such pole in the table
};

// clang-format off
constexpr Row kRows[] = {
    //      H6    H5    H4    H3    H2    H1     1     2     3     4     5     6     7     9    10
    { 20, {   0,    0,    0,    0,    0,    0,   31,   29,   27,   25,   23,   21, 19.5, 17.5,   14}},
    { 25, {   0,    0,    0,    0,    0,    0, 33.5, 31.5, 29.5, 27.5, 25.5,   23, 21.5, 19.5,   15}},
    { 30, {   0,    0,    0,    0,    0,    0, 36.5,   34,   32, 29.5, 27.5,   25, 23.5, 20.5,    0}},
    { 35, {   0,    0,    0,    0, 43.5, 41.5,   39, 36.5,   34, 31.5,   29,   27,   25,    0,    0}},
    { 40, {   0,    0,   51, 48.5,   46, 43.5,   41, 38.5,   36, 33.5,   31, 28.5, 26.5,    0,    0}},
    { 45, {58.5,   56, 53.5,   51, 48.5, 45.5,   43, 40.5, 37.5,   35, 32.5,   30,   28,    0,    0}},
    { 50, {  61, 58.5, 55.5,   53, 50.5, 47.5,   45,   42,   39, 36.5,   34, 31.5,   29,    0,    0}},
    { 55, {63.5, 60.5,   58,   55,   52, 49.5, 46.5, 43.5, 40.5,   38,   35, 32.5,    0,    0,    0}},
    { 60, {65.5, 62.5, 59.5,   57,   54,   51,   48,   45,   42,   39,   36, 33.5,    0,    0,    0}},
    { 65, {67.5, 64.5, 61.5, 58.5, 55.5, 52.5, 49.5, 46.5, 43.5, 40.5, 37.5,    0,    0,    0,    0}},
    { 70, {  69, 66.5, 63.5, 60.5,   57,   54,   51,   48,   45, 41.5, 38.5,    0,    0,    0,    0}},
    { 75, {  71,   68,   65,   62,   59, 55.5, 52.5,   49,   46,   43,    0,    0,    0,    0,    0}},
    { 80, {72.5, 69.5, 66.5, 63.5,   60,   57,   54, 50.5,   47,   44,    0,    0,    0,    0,    0}},
    { 85, {74.5, 71.5,   68,   65, 61.5, 58.5,   55, 51.5,   48,    0,    0,    0,    0,    0,    0}},
    { 90, {  76,   73, 69.5, 66.5,   63, 59.5,   56,   53,   49,    0,    0,    0,    0,    0,    0}},
    { 95, {77.5, 74.5,   71, 67.5, 64.5,   61,   57,   54,    0,    0,    0,    0,    0,    0,    0}},
    {100, {  79,   76, 72.5,   69, 65.5,   62, 58.5,   55,    0,    0,    0,    0,    0,    0,    0}},
    {105, {80.5,   77,   74, 70.5,   67,   63, 59.5,   56,    0,    0,    0,    0,    0,    0,    0}},
    {110, {  82, 78.5,   75, 71.5,   68, 64.5, 60.5,   57,    0,    0,    0,    0,    0,    0,    0}},
    {115, {83.5,   80, 76.5, 72.5,   69, 65.5, 61.5,   58,    0,    0,    0,    0,    0,    0,    0}},
    {120, {  85,   81, 77.5,   74,   70, 66.5, 62.5,   59,    0,    0,    0,    0,    0,    0,    0}},
    {125, {  86, 82.5, 78.5,   75,   71, 67.5, 63.5, 59.5,    0,    0,    0,    0,    0,    0,    0}},
};
// clang-format on

constexpr const char* kTwoSources =
    "ANSI O5.1-2002/2008 dimension table for Douglas-fir and southern pine (from memory); "
    "E. T. Hawes 1947, table of southern pine pole diameters for American National Standard "
    "classes (read)";
constexpr const char* kOneSource =
    "ANSI O5.1-2002/2008 dimension table for Douglas-fir and southern pine (from memory)";

/// Cells of one length, or of a run of lengths, and a run of classes.
struct Part {
    double from_ft, to_ft;
    PoleClass stoutest, slimmest;
    const char* source;
    const char* confidence;
    const char* note;
};

// Cells where the sources differ come first: the first block that covers a cell speaks for it.
constexpr Part kParts[] = {
    {65,
     65,
     PoleClass::c2,
     PoleClass::c2,
     kTwoSources,
     "memory, against the read table",
     "memory 46.5 in (used), Hawes 45.89 in, rounded 46.0 in"},
    {65,
     65,
     PoleClass::c3,
     PoleClass::c3,
     kTwoSources,
     "memory, against the read table",
     "memory 43.5 in (used), Hawes 43.13 in, rounded 43.0 in"},
    {95,
     95,
     PoleClass::c3,
     PoleClass::c3,
     kTwoSources,
     "none",
     "Hawes 50.04 in, rounded 50.0 in; the remembered table has no such pole: left out"},
    {20, 95, PoleClass::c1, PoleClass::c7, kTwoSources, "two sources", ""},
    {20,
     125,
     PoleClass::h6,
     PoleClass::c10,
     kOneSource,
     "memory, checked by the generating rule",
     "classes 9 and 10 run 1.0 to 1.3 in over the generating rule"},
};

}  // namespace

DimensionTable published_8000_psi_table() {
    DimensionTable table;
    table.code = "southern_pine_douglas_fir";
    table.title = "Southern pine and Douglas-fir, 8000 psi";
    table.kind = TableKind::quoted;
    for (const Part& p : kParts) {
        table.blocks.push_back({Length::feet(p.from_ft),
                                Length::feet(p.to_ft),
                                p.stoutest,
                                p.slimmest,
                                p.source,
                                p.confidence,
                                p.note});
    }
    for (int c = 0; c < kPoleClassCount; ++c) {
        table.top_girth[static_cast<std::size_t>(c)] =
            class_row(static_cast<PoleClass>(c)).top_girth;
    }
    const auto& depths = published_setting_depths();
    std::size_t i = 0;
    for (const Row& r : kRows) {
        // Both tables run from 20 to 125 ft in steps of 5 ft.
        DimensionRow row{depths[i].length, depths[i].depth, {}};
        for (std::size_t c = 0; c < row.girth.size(); ++c) {
            if (r.girth_in[c] > 0.0) {
                row.girth[c] = Length::inches(r.girth_in[c]);
            }
        }
        table.rows.push_back(row);
        ++i;
    }
    return table;
}

}  // namespace linewood
