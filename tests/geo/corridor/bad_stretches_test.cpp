#include "geo/corridor/bad_stretches.hpp"

#include <random>

#include <gtest/gtest.h>

#include "tests/geo/corridor/line_sketch.hpp"

namespace linewood {
namespace {

using testing::LineSketch;

/// A straight line of poles P100, P101, ... 10 m apart: `x` rejected, `.` sound, `?` not assessed.
struct Straight {
    LineSketch sketch;
    std::vector<PoleCondition> conditions;

    explicit Straight(const std::string& poles) {
        std::vector<std::string> ids;
        for (std::size_t i = 0; i < poles.size(); ++i) {
            ids.push_back("P" + std::to_string(100000 + i));
        }
        sketch.line(ids, 10);
        for (const char c : poles) {
            PoleCondition condition;
            condition.verdict = c == 'x'   ? Verdict::replace
                                : c == '.' ? Verdict::serviceable
                                           : Verdict::unassessed;
            conditions.push_back(condition);
        }
    }
    std::vector<BadStretch> search(const StretchSearch& how = {}) const {
        const LineGraph graph = sketch.graph();
        return bad_stretches(Runs{graph}, conditions, how);
    }
};

TEST(BadStretches, AreFoundWithTheirStations) {
    const Straight line{".........x..........xx?x.xx.............x........"};
    const std::vector<BadStretch> found = line.search();
    ASSERT_EQ(found.size(), 1U);  // single rejects are none
    const BadStretch& stretch = found.front();
    EXPECT_EQ(stretch.from_m, 200.0);
    EXPECT_EQ(stretch.to_m, 260.0);
    EXPECT_EQ(stretch.assessed, 6);
    EXPECT_EQ(stretch.rejects, 5);
    EXPECT_EQ(line.sketch.id(stretch.first_pole), "P100020");
    EXPECT_EQ(line.sketch.id(stretch.last_pole), "P100026");
    EXPECT_EQ(stretch.reject_share_limits.low, wilson_interval(5, 6)->low);
    EXPECT_LT(stretch.p, 0.05);
    EXPECT_GE(stretch.p, 0.001);
}

TEST(BadStretches, DoNotCountAPoleBetweenRunsTwice) {
    // Three arms with their rejects around the junction J.
    LineSketch sketch;
    sketch.line({"A5", "A4", "A3", "A2", "A1", "J"}, 10);
    sketch.line({"J", "B1", "B2", "B3", "B4", "B5"}, 10);
    sketch.line({"J", "C1", "C2", "C3", "C4", "C5"}, 10);
    std::vector<PoleCondition> conditions(sketch.ids().size());
    for (PoleCondition& condition : conditions) {
        condition.verdict = Verdict::serviceable;
    }
    for (const char* id : {"A1", "J", "B1"}) {
        conditions[sketch.index(id)].verdict = Verdict::stub;
    }
    const LineGraph graph = sketch.graph();
    StretchSearch search;
    search.least_rejects = 1;
    std::int64_t rejects = 0;
    for (const BadStretch& stretch : bad_stretches(Runs{graph}, conditions, search)) {
        rejects += stretch.rejects;
    }
    EXPECT_EQ(rejects, 3);
}

TEST(BadStretches, AreNoneWhereNothingOrEverythingIsRejected) {
    EXPECT_TRUE(Straight{"......."}.search().empty());
    EXPECT_TRUE(Straight{"xxxxxxx"}.search().empty());
    EXPECT_TRUE(Straight{"???????"}.search().empty());
}

/// Labels dealt by chance are called worse than chance in about 5 of 100 lines.
TEST(BadStretches, KeepToTheirErrorRate) {
    std::mt19937 random{12};
    int hits = 0;
    StretchSearch search;
    search.relabellings = 199;
    for (int round = 0; round < 200; ++round) {
        std::string poles(400, '.');
        for (char& c : poles) {
            c = random() % 10U == 0 ? 'x' : '.';
        }
        search.seed = static_cast<std::uint64_t>(round);
        const auto found = Straight{poles}.search(search);
        hits += !found.empty() && found.front().p <= 0.05 ? 1 : 0;
    }
    // The binomial 99 % band for 200 trials of 5 %; ties keep the true rate below it.
    EXPECT_LE(hits, 19);
    EXPECT_GE(hits, 1);
}

TEST(BadStretches, AreTheSameForTheSameSeedInAnyOrder) {
    const LineSketch sketch = testing::random_line(4, 600, 92, 5);
    const LineSketch other = sketch.shuffled(9);
    const auto found_in = [](const LineSketch& s) {
        std::vector<PoleCondition> conditions;
        for (const std::string_view id : s.ids()) {
            PoleCondition condition;
            condition.verdict =
                std::stoi(std::string{id.substr(1)}) % 7 == 0 ? Verdict::replace : Verdict::treat;
            conditions.push_back(condition);
        }
        const LineGraph graph = s.graph();
        std::vector<std::tuple<std::string, std::string, std::int64_t, double>> out;
        for (const BadStretch& b : bad_stretches(Runs{graph}, conditions)) {
            out.emplace_back(s.id(b.first_pole), s.id(b.last_pole), b.score, b.p);
        }
        return out;
    };
    EXPECT_FALSE(found_in(sketch).empty());
    EXPECT_EQ(found_in(sketch), found_in(other));
}

}  // namespace
}  // namespace linewood
