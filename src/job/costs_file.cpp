#include "src/job/costs_file.hpp"

#include <array>
#include <cmath>

#include <nlohmann/json.hpp>

#include "src/job/strict_json.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMostBytes = std::size_t{4} << 20U;
constexpr std::size_t kMostPrices = 10000;
constexpr std::size_t kMostText = 200;
constexpr std::size_t kMostNote = 2000;
constexpr double kMostWeight = 1e6;

constexpr std::array<std::string_view, 9> kTopKeys{"$schema",
                                                   "currency",
                                                   "note",
                                                   "mobilisation",
                                                   "per_km",
                                                   "prices",
                                                   "limits",
                                                   "access_field",
                                                   "risk"};
constexpr std::array<std::string_view, 5> kPriceKeys{
    "verdict", "pole_class", "access", "cost", "crew_days"};
constexpr std::array<std::string_view, 2> kVerdicts{"replace", "stub"};
constexpr std::array<std::string_view, 3> kLimitKeys{"poles", "crew_days", "km"};
constexpr std::array<std::string_view, 4> kRiskKeys{"now", "soon", "least", "consequence"};
constexpr std::array<std::string_view, 3> kConsequenceKeys{"field", "per_unit", "if_absent"};

double number_at(const JsonNode& node, std::string_view key, double most) {
    return node.at(key).number(0.0, most);
}

void read_number(const JsonNode& node, std::string_view key, double most, double& to) {
    if (const auto given = node.find(key)) {
        to = given->number(0.0, most);
    }
}

std::string text_of(const JsonNode& node, std::string_view key) {
    const auto given = node.find(key);
    return given ? given->text(kMostText) : std::string{};
}

JobPrice read_price(const JsonNode& node, bool has_access_field) {
    node.only_keys(kPriceKeys);
    JobPrice price;
    if (const auto verdict = node.find("verdict")) {
        price.verdict = kVerdicts[verdict->choice(kVerdicts)];
    }
    price.pole_class = text_of(node, "pole_class");
    price.access = text_of(node, "access");
    if (!price.access.empty() && !has_access_field) {
        node.at("access").fail_value(
            "can be told of no pole: name the field of the poles layer with \"access_field\"");
    }
    price.cost = number_at(node, "cost", kMaxPrice);
    price.crew_days = number_at(node, "crew_days", kMaxPrice);
    return price;
}

void read_limits(const JsonNode& node, ProjectLimits& limits) {
    node.only_keys(kLimitKeys);
    if (const auto poles = node.find("poles")) {
        const double v = poles->number(1.0, kMaxPrice);
        if (v != std::floor(v)) {
            poles->fail_value("is not a whole number");
        }
        limits.poles = std::llround(v);
    }
    const auto above_zero = [&](std::string_view key, std::optional<double>& to) {
        if (const auto given = node.find(key)) {
            to = given->number(0.0, kMaxPrice);
            if (*to <= 0.0) {
                given->fail_value("is out of range: above 0 is wanted");
            }
        }
    };
    above_zero("crew_days", limits.crew_days);
    above_zero("km", limits.km);
}

void read_risk(const JsonNode& node, CostsFile& file) {
    node.only_keys(kRiskKeys);
    read_number(node, "now", kMostWeight, file.risk.now);
    read_number(node, "soon", kMostWeight, file.risk.soon);
    read_number(node, "least", 1.0, file.risk.least);
    if (const auto consequence = node.find("consequence")) {
        consequence->only_keys(kConsequenceKeys);
        file.consequence_field = consequence->at("field").text(kMostText);
        file.risk.per_unit = number_at(*consequence, "per_unit", kMostWeight);
        file.risk.if_absent = number_at(*consequence, "if_absent", kMaxPrice);
    }
}

}  // namespace

CostsFile read_costs_file(std::string_view text) {
    const nlohmann::json document = parse_strict_json(text, "costs", kMostBytes);
    const JsonNode top{document};
    top.only_keys(kTopKeys);
    text_of(top, "$schema");
    if (const auto note = top.find("note")) {
        note->free_text(kMostNote);
    }
    CostsFile file;
    file.costs.currency = top.at("currency").text(kMostText);
    file.costs.mobilisation = number_at(top, "mobilisation", kMaxPrice);
    file.costs.per_km = number_at(top, "per_km", kMaxPrice);
    file.access_field = text_of(top, "access_field");
    const JsonNode prices = top.at("prices");
    for (const JsonNode& price : prices.items(kMostPrices)) {
        file.costs.prices.push_back(read_price(price, !file.access_field.empty()));
    }
    if (file.costs.prices.empty()) {
        prices.fail("the list is empty: no job would have a price");
    }
    if (const auto limits = top.find("limits")) {
        read_limits(*limits, file.costs.limits);
    }
    if (const auto risk = top.find("risk")) {
        read_risk(*risk, file);
    }
    return file;
}

std::string costs_file_json(const CostsFile& file) {
    nlohmann::ordered_json j{{"currency", file.costs.currency},
                             {"mobilisation", file.costs.mobilisation},
                             {"per_km", file.costs.per_km}};
    if (!file.access_field.empty()) {
        j["access_field"] = file.access_field;
    }
    j["prices"] = nlohmann::ordered_json::array();
    for (const JobPrice& p : file.costs.prices) {
        nlohmann::ordered_json row = nlohmann::ordered_json::object();
        const auto label = [&](const char* key, const std::string& text) {
            if (!text.empty()) {
                row[key] = text;
            }
        };
        label("verdict", p.verdict);
        label("pole_class", p.pole_class);
        label("access", p.access);
        row["cost"] = p.cost;
        row["crew_days"] = p.crew_days;
        j["prices"].push_back(std::move(row));
    }
    nlohmann::ordered_json limits = nlohmann::ordered_json::object();
    if (file.costs.limits.poles) {
        limits["poles"] = *file.costs.limits.poles;
    }
    if (file.costs.limits.crew_days) {
        limits["crew_days"] = *file.costs.limits.crew_days;
    }
    if (file.costs.limits.km) {
        limits["km"] = *file.costs.limits.km;
    }
    j["limits"] = std::move(limits);
    j["risk"] = {{"now", file.risk.now}, {"soon", file.risk.soon}, {"least", file.risk.least}};
    if (!file.consequence_field.empty()) {
        j["risk"]["consequence"] = {{"field", file.consequence_field},
                                    {"per_unit", file.risk.per_unit},
                                    {"if_absent", file.risk.if_absent}};
    }
    return j.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

}  // namespace linewood
