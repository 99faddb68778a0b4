#pragma once

#include <array>
#include <string_view>

#include "assess/condition/condition_findings.hpp"
#include "geo/network/network_findings.hpp"
#include "src/assessed/area_findings.hpp"
#include "src/clusters/cluster_findings.hpp"
#include "src/pipeline/input_findings.hpp"

namespace linewood {

/// What the page on a kind of finding says beside the kind's own meaning.
struct FindingAdvice {
    std::string_view code;
    std::string_view why;   ///< why it matters
    std::string_view mend;  ///< how to mend it
};

/// One for each kind there is; finding_pages.cpp does not compile otherwise.
inline constexpr std::array kFindingAdvice{
    FindingAdvice{
        finding::kPocketDeep.code,
        "such a pocket would pass the pole's centre: more often the unit or the decimal point is "
        "wrong than the wood gone, and the strength worked out follows the figure",
        "look at depth and girth in the field notes; correct the depth, or its unit where the "
        "whole layer is affected"},
    FindingAdvice{
        finding::kPocketWide.code,
        "a mouth wider than the pole is a slip of unit or of field, and the strength worked out "
        "follows it",
        "measure straight across the mouth, not along the surface; correct the width or its unit"},
    FindingAdvice{
        finding::kShellThick.code,
        "more sound wood than the pole is thick cannot be: a reading that is too large makes a "
        "pole look better than it is",
        "check whether the whole bore length was written down instead of the shell, and the unit"},
    FindingAdvice{finding::kGirthDoubtful.code,
                  "a girth in another unit, or a diameter in its place, makes every strength of "
                  "the pole wrong",
                  "compare it with the class of the pole; correct the figure, or the unit of the "
                  "column where many are affected"},
    FindingAdvice{finding::kHeightBeyond.code,
                  "what lies outside the pole cannot be weighed at its place, so that a section "
                  "may be missed",
                  "check the unit and the sign of the height (up is positive, from the "
                  "groundline), and the recorded length"},
    FindingAdvice{finding::kBoreAngle.code,
                  "without its angle a reading cannot be turned into a shell thickness, so nothing "
                  "passes on it",
                  "record the angle between the bore and the horizontal, 0 to 90 degrees, or leave "
                  "it empty where the shell is already square to the surface"},
    FindingAdvice{
        finding::kBorePocket.code,
        "the shell measured from within a pocket leaves out the pocket's depth: the shell shown "
        "may be thinner than it is",
        "record the pocket with its depth at the same height, or set bore_from to surface"},
    FindingAdvice{finding::kBoreUnplaced.code,
                  "sound wood at an unknown side cannot speak for any side: the section may be "
                  "judged more severely than it deserves",
                  "record the azimuth of the bore"},
    FindingAdvice{
        finding::kNoWoodLeft.code,
        "the section counts as failed; if the depth is a slip the pole is condemned for nothing",
        "compare the depth of the shell rot with the girth; correct the depth or its unit"},
    FindingAdvice{finding::kOriginalBelow.code,
                  "wood does not grow on a standing pole: one of the two girths is wrong, and with "
                  "it the loss",
                  "measure both again; check that the original girth was taken on sound wood and "
                  "at the height recorded"},
    FindingAdvice{finding::kNoTableLength.code,
                  "without an original girth the loss is not known and the pole cannot pass",
                  "record original_circumference at the inspection or recorded_circumference with "
                  "the pole, or correct the length"},
    FindingAdvice{
        finding::kNoTableClass.code,
        "without an original girth the loss is not known and the pole cannot pass",
        "record original_circumference or recorded_circumference, or correct class or length"},
    FindingAdvice{
        finding::kNoTaper.code,
        "a pole is thinner higher up: a girth carried over without taper is off by about an inch "
        "in ten feet or less",
        "record species, class and length, or measure the original girth at the groundline"},
    FindingAdvice{
        finding::kPositionConflict.code,
        "which side the decay is on decides how much strength is lost; the worse reading was used, "
        "so the pole may be better than shown",
        "look again at the pole; correct position or azimuth, or azimuth_ref where many disagree"},
    FindingAdvice{finding::kRecovered.code,
                  "a pole that was found failing and now is not was either repaired, mixed up, or "
                  "overlooked: a person may be at risk",
                  "inspect it again; where it was replaced, give the new pole its own id"},
    FindingAdvice{
        finding::kDefectUnjoined.code,
        "a defect that belongs to no visit is not weighed: the pole may be worse than shown",
        "correct the date of the defect, or add the inspection of that day"},
    FindingAdvice{finding::kVisitMade.code,
                  "the visit has no method, no girth and no remarks of its own",
                  "add a row to inspections with the pole and the day, where more is known"},
    FindingAdvice{kFindingSpanPoleUnknown.code,
                  "a wrong name joins nothing: the line may be cut there, and the direction at the "
                  "pole with it",
                  "correct the id in from_pole or to_pole, or add the pole; look for spaces and "
                  "leading zeros"},
    FindingAdvice{kFindingSpanEndFar.code,
                  "the drawing and the names disagree: the direction at the pole may be off by as "
                  "much as the end is far",
                  "draw the end to the pole, or correct the name; --id-distance lets the drawing "
                  "win beyond a distance"},
    FindingAdvice{
        kFindingSpanEndUnsnapped.code,
        "the pole nearby has one neighbour fewer: its role and direction may be wrong",
        "draw the end to its pole, add the pole that is missing, or widen --snap a little"},
    FindingAdvice{kFindingSnapAmbiguous.code,
                  "the other pole may be the right one, and both directions wrong",
                  "name the poles in from_pole and to_pole, or narrow --snap"},
    FindingAdvice{kFindingSpanZeroLength.code,
                  "it gives no direction; mostly a vertex typed twice",
                  "delete it, or draw it to the next pole"},
    FindingAdvice{
        kFindingSpanClosesOnItself.code,
        "it joins a pole to itself and gives no direction; a far end is perhaps not drawn",
        "draw it to the next pole, or correct from_pole and to_pole"},
    FindingAdvice{kFindingSpanDoubled.code,
                  "two circuits on one pole line are no mistake; a copy of the same feature is",
                  "delete the copy; leave it where there are two circuits"},
    FindingAdvice{
        kFindingSpanLong.code,
        "a pole that is missing along it is not assessed, and its neighbours get a wrong direction",
        "add the pole, or leave it where the span is as long as that (a river, a valley)"},
    FindingAdvice{kFindingSpanWithoutGeometry.code,
                  "the direction is that of a straight line between two poles: a bend near the "
                  "pole is not seen",
                  "draw the span"},
    FindingAdvice{kFindingSpanCoordinatesInvalid.code,
                  "without its path the span joins only what it names",
                  "correct or remove the vertex"},
    FindingAdvice{
        kFindingPolesTooDense.code,
        "joining ends to poles at random would give every pole a direction, and a wrong one",
        "check the unit and the coordinate system of both layers (--plane-unit), or narrow --snap"},
    FindingAdvice{
        finding::kValueUnreadable.code,
        "what was not read is not weighed; where something needed is missing the pole is "
        "unassessed",
        "correct the value: a plain number with a point, a date as YYYY-MM-DD, yes or no"},
    FindingAdvice{finding::kValueNotFinite.code,
                  "such values come from a division by zero or a failed export and say nothing",
                  "find out what wrote them; leave the cell empty or put the value in"},
    FindingAdvice{finding::kValueNegative.code,
                  "a size below zero is a sign, a code for missing or a slip",
                  "correct it, or leave the cell empty where it means not recorded"},
    FindingAdvice{finding::kValueZero.code,
                  "zero often stands for not recorded, and as a girth it would condemn the pole",
                  "leave the cell empty, or put the value in"},
    FindingAdvice{
        finding::kDateInFuture.code,
        "the newest visit is the one assessed: a date in the future hides the true latest",
        "correct the date (day and month exchanged?), or give the day of the run with --today"},
    FindingAdvice{
        finding::kDateBefore1900.code,
        "such dates stand for not recorded in some programs; the order of visits may be wrong",
        "correct it, or leave the cell empty"},
    FindingAdvice{finding::kCodeUnknown.code,
                  "a word that is not known is not weighed",
                  "use one of the words the message names"},
    FindingAdvice{
        finding::kSpeciesUnknown.code,
        "without the species there is no girth from the tables, and the taper is not known",
        "use a name of the species table, or add an alias with --wood-tables"},
    FindingAdvice{finding::kClassUnknown.code,
                  "without the class there is no girth from the tables",
                  "write H6 to H1, 1 to 7, 9 or 10, without length or species in the same cell"},
    FindingAdvice{finding::kMaterialUnknown.code,
                  "only wood is assessed, and a wooden pole may be under another word: what fails "
                  "is told, and "
                  "nothing passes until it is known",
                  "write wood, or the true material"},
    FindingAdvice{
        finding::kBoreContradicts.code,
        "rot may have been found and written down as sound; the worse reading was used, so the "
        "pole may be better than shown",
        "write internal_rot or external_pocket as the kind, or delete the size"},
    FindingAdvice{finding::kPoleSizeDoubtful.code,
                  "the length finds the girth in the pole tables, and the taper: a wrong one makes "
                  "the pole seem sounder or worse than it is",
                  "correct the length, or state the unit of the column in a job file"},
    FindingAdvice{finding::kPoleIdMissing.code,
                  "no inspection can find this pole: it is unassessed whatever was measured on it",
                  "give it an id"},
    FindingAdvice{finding::kPoleIdDuplicate.code,
                  "inspections of the second pole would be taken for the first: one of the two is "
                  "not assessed, the other perhaps by the wrong records",
                  "give each pole an id of its own, or delete the copy"},
    FindingAdvice{
        finding::kPoleUnknown.code,
        "the record is not weighed: a pole may look sound because its defects are under another id",
        "correct pole_id (leading zeros, spaces, an old number), or add the pole"},
    FindingAdvice{finding::kPoleWithoutPlace.code,
                  "without a place the pole has no direction of line but that its spans' names "
                  "give, and is on no map",
                  "draw the point"},
    FindingAdvice{finding::kPlaceOutside.code,
                  "the pole is on no map and joins no line by place",
                  "state the right coordinate system, and check that x and y are not exchanged"},
    FindingAdvice{finding::kDefectKindUnknown.code,
                  "what was found may be what fails the pole: it cannot pass until that is known",
                  "write external_pocket, internal_rot, shell_rot or bore"},
    FindingAdvice{finding::kHeightAssumed.code,
                  "the groundline is where most decay is, but a defect higher up would decide "
                  "about replacing",
                  "record the height over the groundline"},
    FindingAdvice{finding::kAzimuthRefAssumed.code,
                  "a compass is some degrees off true north: a pocket near the edge of a sector "
                  "may fall on the wrong side",
                  "record azimuth_ref: true, magnetic, grid or clock"},
    FindingAdvice{finding::kAzimuthRange.code,
                  "without a direction the worst is assumed; the pole may be better than shown",
                  "correct the azimuth, or azimuth_ref where the figures are clock hours"},
    FindingAdvice{
        finding::kAzimuthUnresolved.code,
        "without a direction the worst is assumed; the pole may be better than shown",
        "give the pole a place or a line (see its other findings), or record true azimuths"},
    FindingAdvice{
        finding::kMagneticUndated.code,
        "the magnetic pole wanders: without the year the azimuth may be off by some degrees",
        "record inspected_on, or give --declination"},
    FindingAdvice{finding::kMagneticDate.code,
                  "outside its years the model may be off by some degrees",
                  "give --declination for the place and time, or record true azimuths"},
    FindingAdvice{
        finding::kClockAssumed.code,
        "the side in azimuth_true may be the opposite one on the map; no strength depends on it "
        "here",
        "draw the spans one way, name from_pole and to_pole, or give the poles a station"},
    FindingAdvice{
        finding::kClockUnknown.code,
        "mixing sides could put two pockets on one side that are on two: the worst was assumed",
        "draw the spans one way, name from_pole and to_pole, or give the poles a station"},
    FindingAdvice{
        finding::kGridAssumed.code,
        "grid and true north may differ by a few degrees",
        "record true azimuths, or give the layer in the coordinate system whose grid was used"},
    FindingAdvice{finding::kCrsUnknown.code,
                  "lengths depend on the unit, directions on north: both were assumed",
                  "state the coordinate system of the layer, or its unit with --plane-unit"},
    FindingAdvice{finding::kCrsAssumed.code,
                  "if the two layers differ, spans will not meet their poles",
                  "state the coordinate system of the layer"},
    FindingAdvice{finding::kColumnMissing.code,
                  "what no column holds is not recorded for any feature",
                  "add the column, or give the layer under the right name"},
    FindingAdvice{
        finding::kColumnNotMapped.code,
        "what the job file does not list is not read, so that a value may be missed that "
        "the layer has",
        "list the column under \"fields\" of its source, with its unit, or leave it where it "
        "holds something else"},
    FindingAdvice{
        finding::kColumnNameNear.code,
        "a name misspelt is a field not recorded: a girth that was measured would not be read, and "
        "the pole pass on what stands in its place",
        "rename the column, or map it in a job file (linewood draft); leave it where it holds "
        "something else"},
    FindingAdvice{finding::kColumnRepeated.code,
                  "the two may hold different figures, and only one of them is weighed",
                  "keep the right one of the two columns, or rename the other"},
    FindingAdvice{
        finding::kGroupNotListed.code,
        "a pocket recorded in those columns is not weighed, and a pole can pass without it",
        "set \"repeat\" of the source to all numbers there are"},
    FindingAdvice{
        finding::kLayerMissing.code,
        "without spans there is no direction, without inspections and defects no pole is assessed",
        "name the layer with --spans, --inspections or --defects DATASET:LAYER"},
    FindingAdvice{finding::kPolesMade.code,
                  "a pole along a line between its ends is missed, and the ids can change when a "
                  "line is added",
                  "give a layer of poles with --poles"},
    FindingAdvice{finding::kSpanNamesUnused.code,
                  "the names have no poles to lead to",
                  "give the layer of poles, where there is one"},
    FindingAdvice{finding::kLineWhereOthers.code,
                  "services turn no tangent into a junction: too wide a condition hides bends, too "
                  "narrow a one makes them",
                  "compare the count with what you expect; correct --line-where"},
    FindingAdvice{
        finding::kLineWhereNone.code,
        "without a line no pole has a direction, and the weakest direction governs everywhere",
        "check names and types in --line-where (CSV is text throughout: CAST(kv AS FLOAT) > 1)"},
    FindingAdvice{finding::kGeometryUnused.code,
                  "the feature has no place or path for the network",
                  "draw poles as points and spans as lines"},
    FindingAdvice{finding::kTextNotUtf8.code,
                  "names with accents are damaged in the output, and ids that differ in such "
                  "letters may not join",
                  "save the file as UTF-8"},
    FindingAdvice{
        finding::kRowSurplusCells.code,
        "a shifted row puts one value under another's name: a girth may be read as a depth",
        "put texts with separators into quotation marks and export again"},
    FindingAdvice{finding::kRowCutShort.code,
                  "what is missing may be what fails the pole",
                  "complete the row, or export the table again"},
    FindingAdvice{finding::kQuoteUnclosed.code,
                  "a text that never ends swallows the rows after it; here it was ended at its "
                  "line, so the row may be wrong",
                  "close the quotation mark, or double it where it is part of the text"},
    FindingAdvice{finding::kQuoteMisplaced.code,
                  "the text may have lost its separators",
                  "put the whole cell into quotation marks, and double those within"},
    FindingAdvice{finding::kNulBytes.code,
                  "a file with bytes 0 was damaged, or saved as UTF-16",
                  "restore the file from a copy, or save it as UTF-8"},
    FindingAdvice{finding::kGeometryUnreadable.code,
                  "the features have no place or path",
                  "repair the geometries in a GIS and save the layer again"},
    FindingAdvice{finding::kGeometryNotFinite.code,
                  "what has no place joins no span and is on no map",
                  "enter the coordinate, or draw the feature again; look for what wrote NaN or an "
                  "infinity (an empty cell, a division by 0)"},
    FindingAdvice{
        finding::kCrsLocal.code,
        "where north is decides which defects are in line, and a compass bearing cannot be "
        "turned without a place on the Earth",
        "check that y runs to true north; else save the layer in a system with a place on "
        "the Earth, or give the poles a given_azimuth"},
    FindingAdvice{
        finding::kGivenAzimuthOff.code,
        "the azimuth given decides what is in line: where it is wrong, a pocket is taken to be "
        "in line that is not, or the other way round",
        "look at the pole on the map; correct given_azimuth, or draw the spans that are "
        "missing"},
    FindingAdvice{
        finding::kGridLeftBehind.code,
        "grid north of two coordinate systems differs by up to some degrees: whoever reads the "
        "recorded azimuth against the new coordinates turns every such pocket by that",
        "use azimuth_true of the output, or write it in the input's own system (without --crs; "
        "GeoJSON and KML are always in degrees)"},
    FindingAdvice{finding::kRowLost.code,
                  "what is not in the output is not on anyone's list",
                  "mend the row that the message names and run again"},
    FindingAdvice{finding::kOutputChanged.code,
                  "whoever looks for the old name or value will not find it",
                  "nothing need be done; rename the field in the input where the old name matters"},
    FindingAdvice{
        finding::kStratumOfOne.code,
        "a cluster made of such poles can neither be found nor ruled out, though they count in the "
        "rates",
        "take wider bands, or fewer columns, with --strata: install_year/20"},
    FindingAdvice{
        finding::kNeighbourhoodsSmall.code,
        "no finding around a pole then means that nobody looked, not that all is well",
        "look at more poles: --neighbours 12, or a wider --band; neighbourhood_median in the run "
        "layer says how many there are"},
    FindingAdvice{
        finding::kNeighbourhoodsLarge.code,
        "a bad street is averaged with the district around it, and neither is told from chance",
        "look at fewer poles: a narrower --band, or --neighbours 12"},
    FindingAdvice{finding::kAreaMissing.code,
                  "a district that has no polygon looks as if it had no poles",
                  "draw its polygon, or delete the row"},
    FindingAdvice{
        finding::kAreaCrossesItself.code,
        "which parts such a border encloses is open: a pole near the crossing may be counted "
        "where nobody meant it, or not at all",
        "mend the polygon in a GIS (make valid) and look at the parts it gives"},
    FindingAdvice{finding::kAreaWithoutSize.code,
                  "a figure of nothing is told from one of a district without poles only here",
                  "draw the polygon anew"},
    FindingAdvice{finding::kAreaNotDrawn.code,
                  "the row has its figures, and a map shows nothing of it",
                  "cut the polygon to the region of the poles"}};

}  // namespace linewood
