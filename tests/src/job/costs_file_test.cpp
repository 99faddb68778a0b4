#include "src/job/costs_file.hpp"

#include <fstream>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "src/job/job_error.hpp"
#include "tests/places/places.hpp"

namespace linewood {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

using Json = nlohmann::json;

Json examples() {
    std::ifstream in{testing::test_file("schema/costs_examples.json")};
    return Json::parse(in);
}

/// `prices.0.cost` of the schema's checker as the program writes it: `prices[0].cost`.
std::string program_path(const std::string& path) {
    std::string out;
    std::size_t begin = 0;
    while (begin <= path.size()) {
        const std::size_t end = std::min(path.find('.', begin), path.size());
        const std::string part = path.substr(begin, end - begin);
        const bool index = part.find_first_not_of("0123456789") == std::string::npos;
        if (index) {
            out += "[" + part + "]";
        } else {
            out += (out.empty() ? "" : ".") + part;
        }
        begin = end + 1;
    }
    return out;
}

std::string refusal(const Json& document) {
    try {
        read_costs_file(document.dump());
    } catch (const JobError& e) {
        return e.what();
    }
    return "taken";
}

TEST(CostsFile, TakesWhatTheSchemaTakes) {
    const Json all = examples();
    for (const Json& good : all.at("good")) {
        EXPECT_EQ(refusal(good), "taken") << good;
    }
}

TEST(CostsFile, RefusesWithThePathOfTheFault) {
    const Json all = examples();
    std::size_t looked_at = 0;
    for (const char* list : {"bad", "bad_beyond_the_schema"}) {
        for (const Json& bad : all.at(list)) {
            const std::string path = program_path(bad.at("path").get<std::string>());
            EXPECT_THAT(refusal(bad.at("profile")), StartsWith(path + ": ")) << bad;
            ++looked_at;
        }
    }
    EXPECT_GE(looked_at, 25U);
}

TEST(CostsFile, NamesTheMissingNumberAndTheNegativeOne) {
    EXPECT_THAT(refusal(Json::parse(R"({"currency": "x", "per_km": 1, "prices": []})")),
                HasSubstr("\"mobilisation\" is missing"));
    EXPECT_THAT(
        refusal(Json::parse(R"({"currency": "x", "mobilisation": 1, "per_km": -4, "prices": []})")),
        HasSubstr("per_km: -4 is out of range"));
    EXPECT_THROW(read_costs_file(R"({"currency": "x", "currency": "y"})"), JobError);
    EXPECT_THROW(read_costs_file(R"({"currency": "x", "mobilisation": NaN})"), JobError);
    for (const auto& [text, place] : std::vector<std::pair<std::string, std::string>>{
             {R"({"currency": "x", "mobilisation": 1e999})", "mobilisation: "},
             {R"({"prices": [{"cost": 1}, {"cost": -1e999}]})", "prices[1].cost: "},
             {R"({"prices": [1, 1e999]})", "prices[1]: "}}) {
        try {
            read_costs_file(text);
            FAIL() << text;
        } catch (const JobError& e) {
            EXPECT_THAT(e.what(), HasSubstr(place + "number overflow")) << text;
        }
    }
}

TEST(CostsFile, GivesBackEverySetting) {
    const char* const text = R"({
        "currency": "x", "mobilisation": 2500.5, "per_km": 12,
        "access_field": "way",
        "prices": [{"verdict": "replace", "pole_class": "4", "access": "by boat", "cost": 7, "crew_days": 2},
                   {"cost": 3, "crew_days": 0.5}],
        "limits": {"poles": 4, "crew_days": 2.5, "km": 3},
        "risk": {"now": 5, "soon": 2, "least": 0.25,
                 "consequence": {"field": "customers", "per_unit": 0.5, "if_absent": 8}}})";
    const CostsFile f = read_costs_file(text);
    EXPECT_EQ(f.costs.mobilisation, 2500.5);
    EXPECT_EQ(f.costs.limits.poles, 4);
    EXPECT_EQ(f.costs.prices.at(0).access, "by boat");
    EXPECT_EQ(f.costs.prices.at(1).verdict, "");
    EXPECT_EQ(f.access_field, "way");
    EXPECT_EQ(f.consequence_field, "customers");
    EXPECT_EQ(Json::parse(costs_file_json(f)), Json::parse(text));
    const CostsFile again = read_costs_file(costs_file_json(f));
    EXPECT_EQ(costs_file_json(again), costs_file_json(f));
    EXPECT_EQ(price_list_fault(f.costs), "");
}

}  // namespace
}  // namespace linewood
