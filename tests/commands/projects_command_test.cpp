// `linewood projects`: the example of the README by hand, grouping against all groupings, every work pole
// accounted for, stations that do not depend on how the line is drawn, and nothing an id holds does harm.

#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <random>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"
#include "tests/support/changed_dataset.hpp"
#include "tests/support/worked_line.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

using Json = nlohmann::json;

/// An assessed survey with a costs file beside it.
class PlanFolder {
public:
    explicit PlanFolder(const Survey& survey, const std::string& more_costs = "")
        : folder_{survey} {
        write_costs(folder_.path("costs.json"), more_costs);
        const ProgramRun run = folder_.assess({"-q"});
        EXPECT_EQ(run.exit_code, 0) << run.err;
    }

    ProgramRun plan(const Arguments& more = {}) const {
        Arguments all{"projects",
                      folder_.output().string(),
                      "--costs",
                      path("costs.json"),
                      "--out",
                      path("plan.gpkg")};
        all.insert(all.end(), more.begin(), more.end());
        return linewood(all);
    }
    Table layer(const std::string& name) const { return read_table(path("plan.gpkg"), name); }
    Table assessed(const std::string& name) const { return read_table(folder_.output(), name); }
    std::string path(std::string_view name) const { return folder_.path(name); }
    const SurveyFolder& folder() const { return folder_; }

private:
    SurveyFolder folder_;
};

Survey plane(Survey s) {
    s.set_crs("");
    return s;
}

/// P02 and P04 are 100 m apart: going on costs 400, less than another mobilisation of 1000. P11 is 350 m on:
/// 1400, so it is a project of its own. P03 is treated on the way, nobody comes past P08.
Survey readme_line() {
    Survey s;
    add_worked_line(s, "P", 0.0, "orts...t..r.");
    return plane(s);
}

TEST(ProjectsCommand, WorksOutTheExampleOfTheReadme) {
    const PlanFolder folder{readme_line()};
    const ProgramRun run = folder.plan({"--sheets", folder.path("sheets")});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Table projects = folder.layer("projects");
    ASSERT_EQ(projects.rows.size(), 2U);
    const Row& first = projects.row("project_id", "P02");
    EXPECT_EQ(first.at("jobs"), 2);
    EXPECT_EQ(first.at("ride_along"), 1);
    EXPECT_NEAR(first.at("km").get<double>(), 0.1, 1e-9);
    EXPECT_NEAR(first.at("cost_way").get<double>(), 400.0, 1e-9);
    EXPECT_NEAR(first.at("cost").get<double>(), 1000.0 + 400.0 + 3000.0 + 800.0, 1e-9);
    EXPECT_EQ(first.at("places"), "P01~P02~P12~north 50-150 m");
    const Row& second = projects.row("project_id", "P11");
    EXPECT_EQ(second.at("jobs"), 1);
    EXPECT_NEAR(second.at("cost").get<double>(), 4000.0, 1e-9);
    EXPECT_TRUE(second.at("@wkt").is_null());

    const Table poles = folder.layer("project_poles");
    EXPECT_EQ(poles.rows.size(), 5U);
    EXPECT_EQ(poles.pole("P03").at("project_id"), "P02");
    EXPECT_EQ(poles.pole("P03").at("ride_along"), true);
    EXPECT_TRUE(poles.pole("P08").at("project_id").is_null());
    EXPECT_EQ(poles.pole("P08").at("left_out"), "no_project_passes");
    EXPECT_NEAR(poles.pole("P11").at("station_m").get<double>(), 500.0, 1e-9);
    EXPECT_THAT(run.out, HasSubstr("cost 9,200 coins = mobilisation 2,000 + way 400 + jobs 6,800"));
    const Json plan = Json::parse(content_of(folder.path("sheets/projects.json")));
    EXPECT_EQ(plan.at("totals").at("cost"), 9200.0);
    EXPECT_EQ(plan.at("left_out").size(), 1U);
}

TEST(ProjectsCommand, TakesWhatCannotWaitFirst) {
    // Both jobs are far under their limit: urgency now. The money is for one of the two.
    const PlanFolder folder{readme_line()};
    ASSERT_EQ(folder.plan({"--budget", "4100,5200"}).exit_code, 0);
    std::map<std::string, std::pair<std::string, int>> fate;
    std::int64_t now = 0;
    for (const Row& p : folder.layer("projects").rows) {
        fate[p.at("project_id")] = {p.at("fate"), p.at("year").get<int>()};
        now += p.at("jobs_now").get<std::int64_t>() > 0 ? 1 : 0;
    }
    EXPECT_EQ(now, 2);
    EXPECT_EQ(fate.at("P11"), (std::pair<std::string, int>{"taken_first", 1}));
    EXPECT_EQ(fate.at("P02"), (std::pair<std::string, int>{"taken_first", 2}));
    const Table budget = folder.layer("budget");
    ASSERT_EQ(budget.rows.size(), 2U);
    EXPECT_EQ(budget.rows[0].at("spent"), 4000.0);
    EXPECT_EQ(budget.rows[0].at("now_left"), 1);
    EXPECT_EQ(budget.rows[1].at("now_left"), 0);
    EXPECT_GE(budget.rows[0].at("risk_bound").get<double>(),
              budget.rows[0].at("risk").get<double>());
}

/// What mobilisations and ways cost at least: every way to cut the jobs of a line.
double cheapest(const std::string& verdicts) {
    std::vector<double> at;
    for (std::size_t i = 0; i < verdicts.size(); ++i) {
        if (verdicts[i] == 'r' || verdicts[i] == 's') {
            at.push_back(0.05 * static_cast<double>(i));
        }
    }
    if (at.empty()) {
        return 0.0;
    }
    double best = 1e300;
    for (unsigned cuts = 0; cuts < 1U << (at.size() - 1); ++cuts) {
        double cost = 1000.0;
        for (std::size_t i = 1; i < at.size(); ++i) {
            cost += (cuts >> (i - 1) & 1U) != 0 ? 1000.0 : 4000.0 * (at[i] - at[i - 1]);
        }
        best = std::min(best, cost);
    }
    return best;
}

TEST(ProjectsCommand, NoGroupingIsCheaper) {
    std::mt19937 random{11};
    Survey s;
    double least = 0.0;
    for (int line = 0; line < 12; ++line) {
        std::string verdicts(30, 'o');
        for (int job = 0; job < 12; ++job) {
            verdicts[random() % verdicts.size()] = random() % 2 == 0 ? 'r' : 's';
        }
        add_worked_line(
            s, "L" + std::to_string(line) + "-", 1000.0 * line, verdicts, std::to_string(line));
        least += cheapest(verdicts);
    }
    const PlanFolder folder{plane(s)};
    ASSERT_EQ(folder.plan().exit_code, 0);
    double cost = 0.0;
    for (const Row& p : folder.layer("projects").rows) {
        cost += p.at("cost_mobilisation").get<double>() + p.at("cost_way").get<double>();
        EXPECT_EQ(p.at("exact"), true);
    }
    EXPECT_NEAR(cost, least, 1e-6);
}

/// The sums of the layers are those of the run, and each work pole of the input is there once.
void expect_conserved(const PlanFolder& folder, const ProgramRun& run) {
    ASSERT_EQ(run.exit_code, 0) << run.err;
    std::multiset<std::string> wanted;
    for (const Row& pole : folder.assessed("poles").rows) {
        const std::string verdict = pole.at("verdict");
        const std::string reasons =
            pole.at("reasons").is_null() ? std::string{} : pole.at("reasons").get<std::string>();
        const bool open = (";" + reasons + ";").find(";treated;") == std::string::npos;
        if (verdict == "replace" || verdict == "stub" || (verdict == "treat" && open)) {
            wanted.insert(pole.at("pole_id").get<std::string>());
        }
    }
    std::multiset<std::string> got;
    std::map<std::string, std::array<double, 4>> sums;  // cost, days, jobs, ride-along
    for (const Row& row : folder.layer("project_poles").rows) {
        got.insert(row.at("pole_id").get<std::string>());
        EXPECT_EQ(row.at("project_id").is_null(), !row.at("left_out").is_null());
        if (row.at("project_id").is_null()) {
            continue;
        }
        auto& sum = sums[row.at("project_id")];
        sum[0] += row.at("cost").is_null() ? 0.0 : row.at("cost").get<double>();
        sum[1] += row.at("crew_days").is_null() ? 0.0 : row.at("crew_days").get<double>();
        sum[row.at("ride_along") == true ? 3 : 2] += 1.0;
    }
    EXPECT_EQ(got, wanted);
    double total = 0.0;
    const Table projects = folder.layer("projects");
    EXPECT_EQ(projects.rows.size(), sums.size());
    for (const Row& p : projects.rows) {
        const auto& sum = sums.at(p.at("project_id"));
        EXPECT_NEAR(p.at("cost_jobs").get<double>(), sum[0], 1e-6);
        EXPECT_NEAR(p.at("crew_days").get<double>(), sum[1], 1e-6);
        EXPECT_EQ(p.at("jobs").get<double>(), sum[2]);
        EXPECT_EQ(p.at("ride_along").get<double>(), sum[3]);
        EXPECT_NEAR(p.at("cost").get<double>(),
                    p.at("cost_jobs").get<double>() + p.at("cost_way").get<double>() +
                        p.at("cost_mobilisation").get<double>(),
                    1e-6);
        total += p.at("cost").get<double>();
    }
    const Table statements = folder.layer("run");
    const Row& said = statements.row("item", "total_cost");
    EXPECT_NEAR(std::stod(said.at("value").get<std::string>()), total, 1e-6);
}

TEST(ProjectsCommand, AccountsForEveryWorkPole) {
    std::mt19937 random{3};
    Survey s;
    for (int line = 0; line < 6; ++line) {
        std::string verdicts(25, 'o');
        for (char& v : verdicts) {
            v = "oooorsttu"[random() % 9];
        }
        add_worked_line(s, std::string(1, static_cast<char>('A' + line)), 400.0 * line, verdicts);
    }
    for (Row& visit : s.inspections.rows) {
        if (random() % 3 == 0) {
            visit["treated"] = true;
        }
    }
    const PlanFolder folder{plane(s), R"(, "limits": {"poles": 4, "km": 0.4})"};
    expect_conserved(folder, folder.plan());
    for (const Row& p : folder.layer("projects").rows) {
        EXPECT_LE(p.at("jobs"), 4);
        EXPECT_LE(p.at("km").get<double>(), 0.4 + 1e-9);
    }
}

using Stations = std::map<std::string, std::pair<std::string, double>>;

Stations stations_of(const Survey& survey) {
    const PlanFolder folder{survey};
    const ProgramRun run = folder.plan();
    EXPECT_EQ(run.exit_code, 0) << run.err;
    Stations stations;
    for (const Row& row : folder.layer("stations").rows) {
        stations[row.at("pole_id")] = {row.at("run_id"), row.at("station_m")};
    }
    return stations;
}

void expect_same(const Stations& a, const Stations& b, double relative) {
    ASSERT_EQ(a.size(), b.size());
    for (const auto& [pole, place] : a) {
        EXPECT_EQ(b.at(pole).first, place.first) << pole;
        EXPECT_NEAR(b.at(pole).second, place.second, 1e-6 + relative * place.second) << pole;
    }
}

TEST(ProjectsCommand, StationsDoNotDependOnHowTheLineIsDrawn) {
    const Survey drawn = odd_network();
    const Stations stations = stations_of(drawn);
    EXPECT_EQ(stations.at("T1").first, "J~T3~T1~1");  // J is a junction

    Survey turned = drawn;
    std::reverse(turned.poles.rows.begin(), turned.poles.rows.end());
    std::reverse(turned.spans.rows.begin(), turned.spans.rows.end());
    turned.spans.rows.clear();
    turned.add_span({{24, 72}, {-2, 41}, {0, 0}}, {{"circuit", "2"}, {"voltage_kv", 4.0}});
    turned.add_span({{45, 3}, {0, 0}}, {{"circuit", "1"}, {"voltage_kv", 12.0}});
    turned.add_span({{0, 0}, {-40, 0}, {-80, 1}, {-120, 0}},
                    {{"circuit", "1"}, {"voltage_kv", 12.0}});
    expect_same(stations, stations_of(turned), 0.0);

    Survey split = drawn;
    split.spans.rows.clear();
    const std::vector<std::pair<Position, Position>> spans{
        {{-80, 1}, {-120, 0}}, {{-80, 1}, {-40, 0}}, {{0, 0}, {-40, 0}}, {{0, 0}, {45, 3}}};
    for (const auto& [a, b] : spans) {
        split.add_span({a, b}, {{"circuit", "1"}});
    }
    split.add_span({{0, 0}, {-2, 41}}, {{"circuit", "2"}});
    split.add_span({{-2, 41}, {24, 72}}, {{"circuit", "2"}});
    expect_same(stations, stations_of(split), 0.0);

    expect_same(stations, stations_of(in_crs(drawn, "EPSG:4326")), 1e-6);
    expect_same(stations, stations_of(in_crs(drawn, "EPSG:3857")), 1e-6);
}

TEST(ProjectsCommand, RefusesCostsWithTheirPath) {
    const PlanFolder folder{readme_line()};
    const auto refusal = [&](const std::string& costs) {
        std::ofstream{folder.path("costs.json")} << costs;
        const ProgramRun run = folder.plan();
        EXPECT_EQ(run.exit_code, 2);
        EXPECT_FALSE(std::filesystem::exists(folder.path("plan.gpkg")));
        return run.err;
    };
    EXPECT_THAT(refusal(R"({"currency": "x", "mobilisation": 1, "per_km": 1,
                            "prices": [{"cost": 1, "crew_days": 1}, {"cost": -2, "crew_days": 1}]})"),
                HasSubstr("prices[1].cost: -2 is out of range"));
    EXPECT_THAT(refusal(R"({"currency": "x", "per_km": 1, "prices": []})"),
                HasSubstr("\"mobilisation\" is missing"));
    EXPECT_THAT(refusal(R"({"currency": "x", "mobilisation": 1, "per_km": 1,
                            "prices": [{"cost": 1, "crew_days": null}]})"),
                HasSubstr("prices[0].crew_days: null stands where a number is wanted"));
    EXPECT_THAT(refusal("{"), HasSubstr("costs.json"));
}

TEST(ProjectsCommand, APriceThatFitsNothingAndAJobWithoutOneAreSaid) {
    const PlanFolder folder{readme_line()};
    std::ofstream{folder.path("costs.json")}
        << R"({"currency": "x", "mobilisation": 1, "per_km": 1, "prices":
              [{"verdict": "stub", "cost": 1, "crew_days": 1},
               {"verdict": "stub", "pole_class": "4", "cost": 1, "crew_days": 1}]})";
    const ProgramRun run = folder.plan({"--budget", "100000"});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.err, HasSubstr("2 jobs without a price"));
    EXPECT_THAT(run.err, HasSubstr("prices[1] of the costs fits no job"));
    for (const Row& p : folder.layer("projects").rows) {
        EXPECT_EQ(p.at("fate"), "no_price");
    }
}

TEST(ProjectsCommand, WhatCannotWaitAndHasNoPriceIsCountedAsLeft) {
    const PlanFolder folder{readme_line()};
    std::ofstream{folder.path("costs.json")}
        << R"({"currency": "x", "mobilisation": 1000, "per_km": 4000, "prices":
              [{"verdict": "stub", "cost": 800, "crew_days": 1}]})";
    const ProgramRun run = folder.plan({"--budget", "100000"});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Table budget = folder.layer("budget");
    // Both projects have a replacement, of urgency now.
    EXPECT_EQ(budget.rows[0].at("now_left"), 2);
    EXPECT_EQ(budget.rows[0].at("now_unpriced"), 2);
    // Two mobilisations, 0.1 km and the stub are known.
    EXPECT_NEAR(budget.rows[0].at("now_left_cost").get<double>(), 3200.0, 1e-9);
    EXPECT_THAT(run.err,
                HasSubstr("2 projects with jobs that cannot wait are in no year, because a job has "
                          "no price: add a row to the costs; at least 3,200 x more"));
}

TEST(ProjectsCommand, SaysOfWhichGroupingsTheLeastIsMeant) {
    // With four jobs in a row and a limit of 5 crew-days, two crews in turns could fill it: 3 + 2 twice.
    Survey s;
    add_worked_line(s, "P", 0.0, "ororossoso");
    const PlanFolder folder{plane(s)};
    const auto costs = [&](const std::string& limits) {
        std::ofstream{folder.path("costs.json")}
            << R"({"currency": "x", "mobilisation": 10000, "per_km": 10, "prices":
                  [{"verdict": "replace", "cost": 1, "crew_days": 3},
                   {"verdict": "stub", "cost": 1, "crew_days": 2}])" +
                   limits + "}";
    };
    const auto among = [&] {
        return folder.layer("run").row("item", "grouping_among").at("value");
    };
    costs("");
    const ProgramRun all = folder.plan();
    ASSERT_EQ(all.exit_code, 0) << all.err;
    EXPECT_THAT(all.out, HasSubstr("mobilisation and way are the least of all groupings\n"));
    EXPECT_EQ(among(), "all groupings");
    costs(R"(, "limits": {"crew_days": 5})");
    const ProgramRun limited = folder.plan({"--overwrite"});
    ASSERT_EQ(limited.exit_code, 0) << limited.err;
    EXPECT_THAT(limited.out,
                HasSubstr("groupings in which no pole is on the ways of two projects"));
    EXPECT_EQ(among(), "groupings in which no pole is on the ways of two projects");
}

TEST(ProjectsCommand, TellsAPoleWithoutAnIdFromOneOfAnEarliersId) {
    Survey s = readme_line();
    s.poles.rows.back()["pole_id"] = nullptr;
    s.add_pole("P02", 500.0, 0.0);
    const PlanFolder folder{s};
    // What has no id of its own is never assessed; here it was.
    change_by_sql(folder.folder().output(), "UPDATE poles SET verdict = 'replace'");
    ASSERT_EQ(folder.plan().exit_code, 0);
    std::map<std::string, int> why;
    for (const Row& pole : folder.layer("project_poles").rows) {
        if (!pole.at("left_out").is_null()) {
            ++why[pole.at("left_out").get<std::string>()];
        }
    }
    EXPECT_EQ(why, (std::map<std::string, int>{{"no_id", 1}, {"repeated_id", 1}}));
}

TEST(ProjectsCommand, AddsUpWaysAsTheyAreRecorded) {
    const PlanFolder folder{readme_line()};
    change_by_sql(folder.folder().output(), "UPDATE spans SET span_length_m = 50.0004");
    const ProgramRun run = folder.plan({"--sheets", folder.path("sheets")});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_NEAR(
        folder.layer("projects").row("project_id", "P02").at("km").get<double>(), 0.1000008, 1e-12);
    const Json plan = Json::parse(content_of(folder.path("sheets/projects.json")));
    EXPECT_NEAR(plan.at("totals").at("km").get<double>(), 0.1000008, 1e-12);
}

TEST(ProjectsCommand, DoesNotReplaceTheSheetsOfCorridors) {
    const PlanFolder folder{readme_line()};
    ASSERT_EQ(linewood({"corridors",
                        folder.folder().output().string(),
                        "--out",
                        folder.path("c.gpkg"),
                        "--sheets",
                        folder.path("sheets")})
                  .exit_code,
              0);
    const ProgramRun run = folder.plan({"--sheets", folder.path("sheets"), "--overwrite"});
    EXPECT_EQ(run.exit_code, 1);
    EXPECT_THAT(run.err, HasSubstr("holds the sheets of linewood corridors"));
    EXPECT_THAT(run.err, HasSubstr("name another folder with --sheets"));
    EXPECT_TRUE(std::filesystem::exists(folder.path("sheets/corridors.csv")));
}

TEST(ProjectsCommand, AYearWithoutAnAmountIsNotOneYearLess) {
    const PlanFolder folder{readme_line()};
    for (const char* const typed : {"1000,,2000", ",1000", "1000,", "-5", "1e3", "nan"}) {
        const ProgramRun run = folder.plan({std::string{"--budget="} + typed});
        EXPECT_EQ(run.exit_code, 2) << typed;
        EXPECT_THAT(run.err, HasSubstr("is not an amount")) << typed;
    }
}

TEST(ProjectsCommand, WhatTheStripsCutShortIsOnTheSheetInFull) {
    Survey s;
    add_worked_line(s, "NORTHERN-DISTRICT-", 0.0, "rots");
    add_worked_line(s, "SOUTHERN-DISTRICT-", 9000.0, "r");
    for (Row& pole : s.poles.rows) {
        pole["road"] = "Long Meadow Lane";
    }
    const PlanFolder folder{plane(s)};
    const ProgramRun run = folder.plan({"--sheets", folder.path("sheets"), "--mark", "road"});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.out, HasSubstr("(projects, project_poles, stations, findings, run)"));
    const std::string page = content_of(folder.path("sheets/NORTHERN-DISTRICT-01.html"));
    // The end, by which ids differ, is on the strip; the serviceable pole is in no other table.
    EXPECT_THAT(page, HasSubstr(">\u2026-DISTRICT-02<"));
    EXPECT_THAT(page, HasSubstr("On the strips \u2026 stands for NORTHERN."));
    EXPECT_THAT(page, HasSubstr(">Long Meadow Lane<"));
}

TEST(ProjectsCommand, SaysWhatAConsequenceFieldHolds) {
    Survey s = readme_line();
    for (Row& pole : s.poles.rows) {
        pole["customers"] = pole.at("pole_id") == "P02" ? "many" : "12";
        pole["road"] = "rural";
    }
    const auto risk = [](const std::string& field) {
        return R"(, "risk": {"consequence": {"field": ")" + field +
               R"(", "per_unit": 0.1, "if_absent": 0}})";
    };
    const PlanFolder folder{s, risk("customers")};
    const ProgramRun run = folder.plan();
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(
        run.err,
        HasSubstr("1 job whose customers is neither a number nor yes or no, such as \"many\""));
    const Row found = folder.layer("findings").row("code", "value_unreadable");
    EXPECT_EQ(found.at("feature"), "P02");
    EXPECT_EQ(found.at("field"), "customers");
    EXPECT_EQ(found.at("value"), "many");
    const PlanFolder words{s, risk("road")};
    const ProgramRun refused = words.plan();
    EXPECT_EQ(refused.exit_code, 2);
    EXPECT_THAT(refused.err, HasSubstr("only texts such as \"rural\""));
}

TEST(ProjectsCommand, SaysWhereOneJobPassesTheLimit) {
    const PlanFolder folder{readme_line(), R"(, "limits": {"crew_days": 0.75})"};
    const ProgramRun run = folder.plan({"--sheets", folder.path("sheets")});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.err,
                HasSubstr("2 projects of a single job that needs more than the 0.75 crew-days"));
    EXPECT_THAT(run.out, HasSubstr("way 0 km, crew-days 2.5"));
    EXPECT_THAT(content_of(folder.path("sheets/P11.html")),
                HasSubstr("needs 1 crew-days, over the limit of 0.75"));
}

TEST(ProjectsCommand, NothingAnIdHoldsDoesHarm) {
    Survey s;
    const std::vector<std::string> ids{
        "<script>alert(1)</script>", "=1+1", "../../up", "a~b+c%d", "\" onload=\"x", "name'; --"};
    double y = 0.0;
    for (const std::string& id : ids) {
        add_worked_pole(s, id, 0.0, y, 'r');
        y += 2000.0;
    }
    const PlanFolder folder{plane(s)};
    const ProgramRun run = folder.plan({"--sheets", folder.path("sheets")});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    std::set<std::string> projects;
    for (const Row& p : folder.layer("projects").rows) {
        projects.insert(p.at("project_id").get<std::string>());
    }
    EXPECT_EQ(projects, (std::set<std::string>{ids.begin(), ids.end()}));
    std::size_t pages = 0;
    for (const auto& file : std::filesystem::directory_iterator{folder.path("sheets")}) {
        if (file.path().extension() == ".html") {
            ++pages;
            const std::string page = content_of(file.path());
            EXPECT_THAT(page, Not(HasSubstr("<script")));
            EXPECT_THAT(page, Not(HasSubstr("\" onload")));
        }
    }
    EXPECT_EQ(pages, ids.size() + 1);
    EXPECT_THAT(content_of(folder.path("sheets/projects.csv")), HasSubstr("'=1+1"));
    EXPECT_FALSE(std::filesystem::exists(folder.path("up.html")));
}

TEST(ProjectsCommand, HarmsNothingThatIsThere) {
    const PlanFolder folder{readme_line()};
    const std::string before = content_of(folder.folder().output());
    ASSERT_EQ(folder.plan({"--sheets", folder.path("sheets")}).exit_code, 0);
    EXPECT_EQ(content_of(folder.folder().output()), before);
    const ProgramRun again = folder.plan();
    EXPECT_EQ(again.exit_code, 1);
    EXPECT_THAT(again.err, HasSubstr("--overwrite"));
    EXPECT_EQ(folder.plan({"--overwrite", "--sheets", folder.path("sheets")}).exit_code, 0);

    // A folder with something else in it is left as it is, and no dataset is written either.
    std::filesystem::create_directory(folder.path("mine"));
    std::ofstream{folder.path("mine/letter.txt")} << "dear";
    const ProgramRun foreign = linewood({"projects",
                                         folder.folder().output().string(),
                                         "--costs",
                                         folder.path("costs.json"),
                                         "--out",
                                         folder.path("other.gpkg"),
                                         "--sheets",
                                         folder.path("mine"),
                                         "--overwrite"});
    EXPECT_EQ(foreign.exit_code, 1);
    EXPECT_EQ(content_of(folder.path("mine/letter.txt")), "dear");
    EXPECT_FALSE(std::filesystem::exists(folder.path("other.gpkg")));

    // The input and the costs are never the output.
    const std::string in = folder.folder().output().string();
    EXPECT_EQ(
        linewood({"projects", in, "--costs", folder.path("costs.json"), "--out", in, "--overwrite"})
            .exit_code,
        2);
    EXPECT_EQ(content_of(in), before);
    const ProgramRun raw = linewood({"projects",
                                     folder.folder().input().string(),
                                     "--costs",
                                     folder.path("costs.json"),
                                     "--out",
                                     folder.path("raw.gpkg")});
    EXPECT_EQ(raw.exit_code, 1);
    EXPECT_THAT(raw.err, HasSubstr("linewood assess"));
}

ProgramRun plan_as(const PlanFolder& folder, const std::string& format) {
    return linewood({"projects",
                     folder.folder().output().string(),
                     "--costs",
                     folder.path("costs.json"),
                     "--out",
                     folder.path(format),
                     "--format",
                     format});
}

TEST(ProjectsCommand, WritesFoldersToo) {
    Survey on_earth;
    add_worked_line(on_earth, "P", 0.0, "orts...t..r.");
    const PlanFolder folder{on_earth};
    for (const char* format : {"flatgeobuf", "geojson", "shapefile"}) {
        const ProgramRun run = plan_as(folder, format);
        EXPECT_EQ(run.exit_code, 0) << run.err;
        EXPECT_TRUE(std::filesystem::exists(folder.path(format) + "/stations.csv")) << format;
    }
}

TEST(ProjectsCommand, WritesNoPlaneAsGeoJson) {
    const PlanFolder folder{readme_line()};
    EXPECT_EQ(plan_as(folder, "flatgeobuf").exit_code, 0);
    const ProgramRun run = plan_as(folder, "geojson");
    EXPECT_EQ(run.exit_code, 1);
    EXPECT_THAT(run.err, HasSubstr("this layer has no coordinate system"));
    EXPECT_FALSE(std::filesystem::exists(folder.path("geojson")));
}

}  // namespace
}  // namespace linewood::testing
