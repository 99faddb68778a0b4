#pragma once

#include <array>

#include "assess/condition/condition_findings.hpp"

namespace linewood::finding {

/// The doubts that reading the layers raises.
inline constexpr FindingKind kValueUnreadable{
    "value_unreadable",
    Severity::warning,
    "not a value of the kind expected; taken as not recorded"};
inline constexpr FindingKind kValueNotFinite{
    "value_not_finite", Severity::warning, "NaN or infinite; taken as not recorded"};
inline constexpr FindingKind kValueNegative{
    "value_negative", Severity::warning, "a size below zero; taken as not recorded"};
inline constexpr FindingKind kValueZero{
    "value_zero", Severity::warning, "zero where zero cannot be; taken as not recorded"};
inline constexpr FindingKind kDateInFuture{
    "date_in_future",
    Severity::warning,
    "a date after the day of this run; used as recorded, so that it counts as the latest"};
inline constexpr FindingKind kDateBefore1900{
    "date_before_1900", Severity::warning, "a date before 1900; used as recorded"};
inline constexpr FindingKind kCodeUnknown{
    "code_unknown", Severity::warning, "not one of the words expected; taken as not recorded"};
inline constexpr FindingKind kSpeciesUnknown{
    "species_unknown", Severity::warning, "no species of this name in the wood tables"};
inline constexpr FindingKind kClassUnknown{
    "class_unknown", Severity::warning, "not a pole class (H6 to H1, 1 to 7, 9, 10)"};
inline constexpr FindingKind kMaterialUnknown{"material_unknown",
                                              Severity::warning,
                                              "neither wood nor a material known not to be: "
                                              "assessed as wood, so that no failure is missed, and "
                                              "nothing passes on it"};
inline constexpr FindingKind kBoreContradicts{
    "bore_contradicts",
    Severity::warning,
    "a bore said to be sound has a shell, width or depth: taken as internal rot with that shell, "
    "else as a "
    "pocket"};
inline constexpr FindingKind kPoleSizeDoubtful{
    "pole_size_doubtful",
    Severity::warning,
    "a pole under 15 ft or over 140 ft long, set deeper than a third of its length, or not at all: "
    "is it in another unit? A length is used as it is, and a depth of 0, which makes the original "
    "girth greater; too great a depth is taken as not recorded, and nothing passes on it"};
inline constexpr FindingKind kPoleIdMissing{
    "pole_id_missing", Severity::error, "a pole without an id; nothing can be joined to it"};
inline constexpr FindingKind kPoleIdDuplicate{
    "pole_id_duplicate",
    Severity::error,
    "another pole before it has this id; that one is assessed, this one is not"};
inline constexpr FindingKind kPoleUnknown{
    "pole_unknown", Severity::error, "names no pole of the poles layer; kept, but not used"};
inline constexpr FindingKind kPoleWithoutPlace{
    "pole_without_place", Severity::warning, "no usable point; the pole is joined by its id only"};
inline constexpr FindingKind kPlaceOutside{
    "place_outside_crs",
    Severity::warning,
    "the coordinates are no place on the Earth in the layer's coordinate system (exchanged, in "
    "another unit, or of "
    "another system?); kept as they are, but the pole is joined by its id only"};
inline constexpr FindingKind kDefectKindUnknown{
    "defect_kind_unknown",
    Severity::error,
    "not a kind of defect; the pole cannot pass while it is not known what was found"};
inline constexpr FindingKind kHeightAssumed{
    "height_assumed", Severity::note, "no height recorded; taken at the groundline"};
inline constexpr FindingKind kAzimuthRefAssumed{
    "azimuth_ref_assumed", Severity::note, "no azimuth reference recorded; taken as true"};
inline constexpr FindingKind kAzimuthRange{"azimuth_out_of_range",
                                           Severity::warning,
                                           "an azimuth outside 0 to 360 degrees, or a clock "
                                           "reading outside 0 to 12; taken as not recorded"};
inline constexpr FindingKind kAzimuthUnresolved{
    "azimuth_unresolved",
    Severity::warning,
    "an azimuth that cannot be turned to true north; taken as not recorded"};
inline constexpr FindingKind kGivenAzimuthOff{
    "given_azimuth_off",
    Severity::warning,
    "given_azimuth lies far off the line that the spans draw at this pole; the one given was used"};
inline constexpr FindingKind kMagneticUndated{
    "magnetic_undated",
    Severity::warning,
    "a magnetic azimuth without a date, so its declination is not known; taken as not recorded. "
    "Give --declination where one holds for all"};
inline constexpr FindingKind kMagneticDate{
    "magnetic_date_outside_model",
    Severity::warning,
    "a magnetic azimuth of a date outside the World Magnetic Model 2025 (2025 to 2030); taken as "
    "not recorded. Give --declination where one holds for all"};
inline constexpr FindingKind kClockAssumed{
    "clock_direction_assumed",
    Severity::note,
    "which way along the line is ahead is not known: 12 was taken as the end of its axis between 0 "
    "and 180 degrees, so azimuth_true may be of the opposite side. The strengths are the same "
    "either "
    "way, since no azimuth at this pole is counted from north"};
inline constexpr FindingKind kClockUnknown{
    "clock_direction_unknown",
    Severity::warning,
    "which way along the line is ahead is not known, and other azimuths at this pole are counted "
    "from north: taken as not recorded. Draw the spans one way, name from_pole and to_pole, or "
    "give "
    "the poles a station"};
inline constexpr FindingKind kGridAssumed{
    "grid_north_assumed",
    Severity::warning,
    "an azimuth from grid north, but the poles layer has longitudes and latitudes and no grid: "
    "grid north was taken as true north"};
inline constexpr FindingKind kGridLeftBehind{
    "grid_azimuth_of_input",
    Severity::warning,
    "so many azimuths are counted from grid north of the input's coordinate system, and stand so "
    "in the output, whose coordinates are in another: "
    "take azimuth_true there, and assess again from the input, not from this output"};
inline constexpr FindingKind kCrsUnknown{
    "crs_unknown",
    Severity::warning,
    "the layer has no coordinate system: taken as a plane whose north is true, in metres or what "
    "--plane-unit says"};
inline constexpr FindingKind kCrsLocal{"crs_local",
                                       Severity::warning,
                                       "a local coordinate system, with no place on the Earth: "
                                       "taken as a plane in the unit it states, "
                                       "whose y is true north"};
inline constexpr FindingKind kCrsAssumed{"crs_assumed",
                                         Severity::warning,
                                         "the layer has no coordinate system, or one without a "
                                         "place on the Earth: that of the other layer "
                                         "was taken"};
inline constexpr FindingKind kColumnMissing{
    "column_missing", Severity::warning, "the layer has no such column"};
inline constexpr FindingKind kColumnNotMapped{"column_not_mapped",
                                              Severity::note,
                                              "the column is called like a field of this layer, "
                                              "but the job file does not list it: carried along, "
                                              "not read"};
inline constexpr FindingKind kColumnNameNear{
    "column_name_near",
    Severity::warning,
    "the layer lacks a field, and this column is called nearly like it: carried along, not read"};
inline constexpr FindingKind kColumnRepeated{
    "column_repeated",
    Severity::warning,
    "the layer has another column of this name, case aside, which is read; this one is not"};
inline constexpr FindingKind kGroupNotListed{
    "group_not_listed",
    Severity::warning,
    "the column is one of a repeated group whose number the job file does not list: not read"};
inline constexpr FindingKind kLayerMissing{
    "layer_missing", Severity::warning, "there is no such layer; the run went on without it"};
inline constexpr FindingKind kPolesMade{
    "poles_made",
    Severity::note,
    "there are lines only: poles were made where they end, E1 and on from west to east; a pole "
    "along a line is not known, and nothing is known of what they are made of"};
inline constexpr FindingKind kSpanNamesUnused{
    "span_names_unused",
    Severity::note,
    "from_pole and to_pole were not used: the poles were made from the lines"};
inline constexpr FindingKind kLineWhereOthers{
    "line_where_others",
    Severity::note,
    "so many spans do not meet --line-where: they count as services, which turn no line"};
inline constexpr FindingKind kLineWhereNone{
    "line_where_none",
    Severity::warning,
    "no span meets --line-where: all count as services, so no pole has a direction; check the "
    "condition"};
inline constexpr FindingKind kGeometryUnused{
    "geometry_unused", Severity::warning, "a geometry of an unexpected kind; kept, but not used"};
inline constexpr FindingKind kTextNotUtf8{"text_not_utf8",
                                          Severity::warning,
                                          "no valid UTF-8: each bad byte (shown as two hexadecimal "
                                          "digits) was replaced by U+FFFD in the output. Save the "
                                          "file as UTF-8"};
inline constexpr FindingKind kRowSurplusCells{
    "row_surplus_cells",
    Severity::error,
    "the row has more cells than the table has columns: which value belongs where is not known, "
    "and nothing "
    "passes on this row. Put texts that hold a separator into quotation marks"};
inline constexpr FindingKind kRowCutShort{
    "row_cut_short",
    Severity::error,
    "the row ends before the last column: what is missing is taken as not recorded, and nothing "
    "passes on "
    "this row. Complete it; a separator for each empty cell will do"};
inline constexpr FindingKind kQuoteUnclosed{"quote_unclosed",
                                            Severity::error,
                                            "a quotation mark begins the cell and is never closed: "
                                            "it was taken as a character, the row ends with its "
                                            "line, and nothing passes on it"};
inline constexpr FindingKind kQuoteMisplaced{
    "quote_misplaced",
    Severity::note,
    "a quotation mark within a cell that does not begin with one: taken as a character"};
inline constexpr FindingKind kNulBytes{"nul_bytes",
                                       Severity::warning,
                                       "the text holds bytes 0 (shown as \\x00), which no text "
                                       "does: each was replaced by U+FFFD. Is the "
                                       "file damaged?"};
inline constexpr FindingKind kGeometryUnreadable{
    "geometry_unreadable",
    Severity::warning,
    "there is a geometry that cannot be read: the feature is kept, and written without one. Draw "
    "it "
    "again"};
inline constexpr FindingKind kGeometryNotFinite{"geometry_not_finite",
                                                Severity::warning,
                                                "a coordinate is NaN or infinite: the geometry is "
                                                "not used, and written as null. Draw it again"};
inline constexpr FindingKind kRowLost{
    "row_lost",
    Severity::error,
    "this cannot be read at all and is not in the output; mend it and run again"};
inline constexpr FindingKind kOutputChanged{
    "output_changed",
    Severity::note,
    "something had to be written differently from how it was read"};

inline constexpr std::array kInputKinds{
    kValueUnreadable,   kValueNotFinite,    kValueNegative,    kValueZero,
    kDateInFuture,      kDateBefore1900,    kCodeUnknown,      kSpeciesUnknown,
    kClassUnknown,      kMaterialUnknown,   kPoleIdMissing,    kPoleIdDuplicate,
    kPoleUnknown,       kPlaceOutside,      kPoleWithoutPlace, kDefectKindUnknown,
    kHeightAssumed,     kAzimuthRefAssumed, kAzimuthRange,     kAzimuthUnresolved,
    kMagneticUndated,   kMagneticDate,      kClockAssumed,     kPolesMade,
    kSpanNamesUnused,   kCrsUnknown,        kCrsAssumed,       kColumnMissing,
    kLayerMissing,      kTextNotUtf8,       kRowSurplusCells,  kRowCutShort,
    kQuoteUnclosed,     kQuoteMisplaced,    kNulBytes,         kGeometryUnreadable,
    kGeometryNotFinite, kRowLost,           kGeometryUnused,   kOutputChanged,
    kClockUnknown,      kGridAssumed,       kLineWhereOthers,  kLineWhereNone,
    kCrsLocal,          kGivenAzimuthOff,   kColumnNotMapped,  kPoleSizeDoubtful,
    kColumnNameNear,    kColumnRepeated,    kGroupNotListed,   kBoreContradicts,
    kGridLeftBehind};

}  // namespace linewood::finding
