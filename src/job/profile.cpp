#include "src/job/profile.hpp"

#include <array>
#include <cmath>
#include <optional>

#include <nlohmann/json.hpp>

#include "src/job/strict_json.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMostBytes = std::size_t{1} << 20U;

/// Reads the numbers of one group of a profile.
class Group {
public:
    Group(const JsonNode& profile, std::string_view name, std::span<const std::string_view> keys)
        : node_{profile.find(name)} {
        if (node_) {
            node_->only_keys(keys);
        }
    }

    std::optional<double> number(std::string_view key, double least, double most) const {
        const auto value = node_ ? node_->find(key) : std::nullopt;
        return value && !value->is_null() ? std::optional<double>{value->number(least, most)}
                                          : std::nullopt;
    }
    void take(std::string_view key, double least, double most, double& to) const {
        to = number(key, least, most).value_or(to);
    }
    void take_inches(std::string_view key, double most, Length& to) const {
        to = Length::inches(number(key, 0.0, most).value_or(to.inches()));
    }
    void take_degrees(std::string_view key, double most, Angle& to) const {
        to = Angle::degrees(number(key, 0.0, most).value_or(to.degrees()));
    }
    /// Up to 10 km; `to` is a Length or a Maybe<Length>.
    template <typename To>
    void take_metres(std::string_view key, To& to) const {
        if (const auto metres = number(key, 0.0, 10000.0)) {
            to = Length::metres(*metres);
        }
    }
    /// From 0 up.
    std::optional<int> whole_number(std::string_view key, double most) const {
        const auto value = number(key, 0.0, most);
        if (value && *value != std::floor(*value)) {
            node_->at(key).fail_value("is not a whole number");
        }
        return value ? std::optional<int>{static_cast<int>(*value)} : std::nullopt;
    }
    void take_flag(std::string_view key, bool& to) const {
        if (const auto value = node_ ? node_->find(key) : std::nullopt) {
            to = value->boolean();
        }
    }

private:
    std::optional<JsonNode> node_;
};

constexpr std::array<std::string_view, 7> kTopKeys{
    "name", "note", "sources", "limits", "sectors", "line", "rules"};
constexpr std::array<std::string_view, 6> kLineKeys{"tangent_max_deg",
                                                    "junction_pair_max_deg",
                                                    "snap_tolerance_m",
                                                    "interior_cut_m",
                                                    "id_distance_max_m",
                                                    "nearest_line_m"};
constexpr std::array<std::string_view, 6> kLimitKeys{"governing_strength_min",
                                                     "weakest_strength_min",
                                                     "girth_ratio_min",
                                                     "shell_min_in",
                                                     "shell_pocket_width_in",
                                                     "split_loss_max"};
constexpr std::array<std::string_view, 3> kSectorKeys{
    "in_line_deg", "out_of_line_deg", "governing_deflection_max_deg"};
constexpr std::array<std::string_view, 8> kRuleKeys{"zone_top_in",
                                                    "section_reach_ft",
                                                    "decay_girth_ratio",
                                                    "present_stands_for_original",
                                                    "urgent_strength_share",
                                                    "bore_45_factor",
                                                    "bore_merge_deg",
                                                    "join_days"};

void read_limits(const JsonNode& profile, Criteria& c) {
    const Group limits{profile, "limits", kLimitKeys};
    limits.take("governing_strength_min", 0.0, 1.0, c.governing_strength_min);
    limits.take("weakest_strength_min", 0.0, 1.0, c.weakest_strength_min);
    c.girth_ratio_min =
        limits.number("girth_ratio_min", 0.0, 1.0).value_or(std::cbrt(c.governing_strength_min));
    limits.take_inches("shell_min_in", 60.0, c.shell_min);
    limits.take_inches("shell_pocket_width_in", 60.0, c.shell_pocket_width);
    limits.take("split_loss_max", 0.0, 1.0, c.split_loss_max);
}

void read_sectors(const JsonNode& profile, Criteria& c) {
    const Group sectors{profile, "sectors", kSectorKeys};
    sectors.take_degrees("in_line_deg", 90.0, c.in_line_sector);
    sectors.take_degrees("out_of_line_deg", 90.0, c.out_of_line_sector);
    sectors.take_degrees("governing_deflection_max_deg", 180.0, c.governing_deflection_max);
    if (c.in_line_sector.degrees() + c.out_of_line_sector.degrees() > 90.0) {
        profile.at("sectors").fail("the two sectors together are wider than 90 degrees");
    }
}

void read_line(const JsonNode& profile, NetworkSettings& n) {
    const Group line{profile, "line", kLineKeys};
    line.take_degrees("tangent_max_deg", 180.0, n.tangent_limit);
    line.take_degrees("junction_pair_max_deg", 180.0, n.junction_pair_limit);
    line.take_metres("snap_tolerance_m", n.snap_tolerance);
    line.take_metres("interior_cut_m", n.interior_cut);
    line.take_metres("id_distance_max_m", n.id_distance_limit);
    line.take_metres("nearest_line_m", n.nearest_line);
}

/// Sources are words for people: kept, sorted by what they speak of.
void read_sources(const JsonNode& profile, Criteria& c) {
    if (const auto sources = profile.find("sources")) {
        for (const auto& member : sources->members(100)) {
            c.sources[member.key] = member.value.text(2000);
        }
    }
}

void read_rules(const JsonNode& profile, Criteria& c) {
    const Group rules{profile, "rules", kRuleKeys};
    rules.take_inches("zone_top_in", 240.0, c.zone_top);
    c.section_reach =
        Length::feet(rules.number("section_reach_ft", 0.0, 10.0).value_or(c.section_reach.feet()));
    rules.take("decay_girth_ratio", 0.0, 1.0, c.decay_girth_ratio);
    rules.take_flag("present_stands_for_original", c.present_stands_for_original);
    rules.take("urgent_strength_share", 0.0, 1.0, c.urgent_strength_share);
    rules.take("bore_45_factor", 0.0, 1.0, c.bore_45_factor);
    rules.take_degrees("bore_merge_deg", 30.0, c.bore_merge);
    c.join_days = rules.whole_number("join_days", 366.0).value_or(c.join_days);
}

}  // namespace

Profile read_profile(std::string_view json_text) {
    const auto document = parse_strict_json(json_text, "criteria", kMostBytes);
    const JsonNode node{document};
    node.only_keys(kTopKeys);
    Profile p;
    p.criteria.name = node.at("name").text(100);
    if (const auto note = node.find("note"); note && !note->is_text()) {
        note->fail_value("stands where text is wanted");
    }
    read_sources(node, p.criteria);
    read_limits(node, p.criteria);
    read_sectors(node, p.criteria);
    read_line(node, p.network);
    read_rules(node, p.criteria);
    return p;
}

std::string profile_to_json(const Profile& profile) {
    const Criteria& c = profile.criteria;
    const NetworkSettings& n = profile.network;
    const auto metres = [](Maybe<Length> l) {
        return l ? nlohmann::json(l->metres()) : nlohmann::json();
    };
    const nlohmann::json json{
        {"name", c.name},
        {"sources", c.sources},
        {"limits",
         {{"governing_strength_min", c.governing_strength_min},
          {"weakest_strength_min", c.weakest_strength_min},
          {"girth_ratio_min", c.girth_ratio_min},
          {"shell_min_in", rounded(c.shell_min.inches())},
          {"shell_pocket_width_in", rounded(c.shell_pocket_width.inches())},
          {"split_loss_max", c.split_loss_max}}},
        {"sectors",
         {{"in_line_deg", c.in_line_sector.degrees()},
          {"out_of_line_deg", c.out_of_line_sector.degrees()},
          {"governing_deflection_max_deg", c.governing_deflection_max.degrees()}}},
        {"line",
         {{"tangent_max_deg", n.tangent_limit.degrees()},
          {"junction_pair_max_deg", n.junction_pair_limit.degrees()},
          {"snap_tolerance_m", n.snap_tolerance.metres()},
          {"interior_cut_m", n.interior_cut.metres()},
          {"id_distance_max_m", metres(n.id_distance_limit)},
          {"nearest_line_m", metres(n.nearest_line)}}},
        {"rules",
         {{"zone_top_in", rounded(c.zone_top.inches())},
          {"section_reach_ft", rounded(c.section_reach.feet())},
          {"decay_girth_ratio", c.decay_girth_ratio},
          {"present_stands_for_original", c.present_stands_for_original},
          {"urgent_strength_share", c.urgent_strength_share},
          {"bore_45_factor", c.bore_45_factor},
          {"bore_merge_deg", c.bore_merge.degrees()},
          {"join_days", c.join_days}}}};
    return json.dump();
}

}  // namespace linewood
