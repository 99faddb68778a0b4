#pragma once

#include <string>
#include <string_view>

#include "assess/condition/criteria.hpp"
#include "geo/network/network_settings.hpp"

namespace linewood {

/// What poles are judged by, and when a line counts as straight on.
struct Profile {
    Criteria criteria;
    NetworkSettings network;
    std::string note;                          ///< free text; not part of what is hashed
    std::string extends = "general-practice";  ///< the shipped profile it stands on
};

/// How the source of a figure begins that a profile gives none for.
inline constexpr std::string_view kNoSourceGiven = "no source given";

/// A criteria profile from JSON. Every key but `name` may be left out; the value of the profile that
/// it extends stands, `general-practice` where it names none. The schema is
/// src/job/schema/criteria.schema.json (`linewood criteria schema`).
///
///     {
///       "name": "our-practice",
///       "extends": "two-thirds",
///       "note": "free text",
///       "sources": {"governing_strength_min": "where the figure comes from"},
///       "limits": {"governing_strength_min": 0.65, "weakest_strength_min": 0.5,
///                  "girth_ratio_min": 0.866, "shell_min_in": 2, "shell_pocket_width_in": 1,
///                  "split_loss_max": 0.05},
///       "sectors": {"in_line_deg": 30, "out_of_line_deg": 30, "governing_deflection_max_deg": 30},
///       "line": {"tangent_max_deg": 5, "junction_pair_max_deg": 30, "snap_tolerance_m": 2,
///                "interior_cut_m": 0.5, "id_distance_max_m": null, "nearest_line_m": null},
///       "rules": {"zone_top_in": 15, "section_reach_ft": 0.5, "decay_girth_ratio": 0.98,
///                 "present_stands_for_original": false, "urgent_strength_share": 0.6667,
///                 "bore_45_factor": 0.7, "bore_merge_deg": 1, "join_days": 30}
///     }
///
/// A strength limit may be given by the two load factors of a code instead:
///
///     "governing_strength_min": {"factor_at_installation": 4, "factor_at_replacement": 2.65}
///
/// The limit is replacement / installation (the permitted loss is 1 less that).
///
/// Where `governing_strength_min` is given and `girth_ratio_min` is not, this follows it (its cube
/// root). A value that differs from the extended profile's has no use for the source given there:
/// without one of its own its source becomes "no source given in profile NAME".
/// @throws JobError naming the JSON path, the value and the nearest valid word.
Profile read_profile(std::string_view json_text);

/// The whole profile, resolved, as one line of JSON with sorted keys: what is hashed and written to the
/// output. Load factors are a limit there, and are named in its source. Without note and `extends`.
std::string profile_to_json(const Profile& profile);

/// SHA-256 of profile_to_json.
std::string profile_hash(const Profile& profile);

}  // namespace linewood
