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
};

/// A criteria profile from JSON. Every key may be left out; the default profile's value stands.
///
///     {
///       "name": "our-practice",
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
/// Where `girth_ratio_min` is left out it follows `governing_strength_min` (its cube root).
/// @throws JobError naming the JSON path, the value and the nearest valid word.
Profile read_profile(std::string_view json_text);

/// The whole profile as one line of JSON with sorted keys: what is hashed and written to the output.
std::string profile_to_json(const Profile& profile);

}  // namespace linewood
