#include "geo/corridor/runs.hpp"

#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/corridor/run_id.hpp"
#include "tests/geo/corridor/line_sketch.hpp"

namespace linewood {
namespace {

using ::testing::ElementsAre;
using testing::LineSketch;

/// The runs as text: poles with their stations, circuits behind, `=` and the length for closed ones.
std::vector<std::string> written(const LineSketch& sketch) {
    const LineGraph graph = sketch.graph();
    const Runs runs{graph};
    std::vector<std::string> out;
    for (std::size_t r = 0; r < runs.runs().size(); ++r) {
        std::string text;
        for (const Runs::Stop& stop : runs.stops(r)) {
            text += (text.empty() ? "" : " ") + sketch.id(stop.pole) + "@" +
                    std::to_string(std::lround(stop.station_m));
        }
        if (runs.runs()[r].closed) {
            text += " =" + std::to_string(std::lround(runs.runs()[r].length_m));
        }
        for (const std::uint32_t circuit : graph.circuits(runs.runs()[r].circuits)) {
            text += " " + std::string{sketch.circuits()[circuit]};
        }
        out.push_back(text);
    }
    return out;
}

std::vector<std::string> ids_of(const LineSketch& sketch) {
    const LineGraph graph = sketch.graph();
    const Runs runs{graph};
    std::vector<std::string> out;
    for (std::size_t r = 0; r < runs.runs().size(); ++r) {
        out.push_back(run_id(run_name(runs, r, graph, sketch.ids(), sketch.circuits())));
    }
    return out;
}

TEST(Runs, EndAtJunctionsAndDeadEndsAndStartAtTheLesserId) {
    LineSketch sketch;
    sketch.line({"D", "C", "B", "A"}, 10);  // drawn against its stations
    sketch.line({"B", "X", "Y"}, 20);
    EXPECT_THAT(written(sketch), ElementsAre("A@0 B@10", "B@0 C@10 D@20", "B@0 X@20 Y@40"));
    EXPECT_THAT(ids_of(sketch), ElementsAre("A~B~B~", "B~C~D~", "B~X~Y~"));
}

TEST(Runs, GiveAJunctionTheFirstOfItsRunsAndListAll) {
    LineSketch sketch;
    sketch.line({"D", "C", "B", "A"}, 10);
    sketch.line({"B", "X", "Y"}, 20);
    const LineGraph graph = sketch.graph();
    const Runs runs{graph};
    const auto places = runs.places(sketch.index("B"));
    ASSERT_EQ(places.size(), 3U);
    EXPECT_EQ(places[0].run, 0U);
    EXPECT_EQ(places[0].station_m, 10.0);
    EXPECT_EQ(places[1].run, 1U);
    EXPECT_EQ(places[1].station_m, 0.0);
    EXPECT_EQ(places[2].run, 2U);
    EXPECT_EQ(runs.place(sketch.index("B")).run, 0U);
    EXPECT_EQ(runs.places(sketch.index("C")).size(), 1U);
}

TEST(Runs, EndWhereTheCircuitsChange) {
    LineSketch sketch;
    sketch.span("A", "B", 10, "north");
    sketch.span("B", "C", 10, "north");
    sketch.span("C", "D", 10, "south");
    sketch.span("D", "E", 10);
    EXPECT_THAT(written(sketch), ElementsAre("A@0 B@10 C@20 north", "C@0 D@10 south", "D@0 E@10"));
}

TEST(Runs, TakeADoubleCircuitForOneRowOfPoles) {
    LineSketch sketch;
    sketch.span("B", "A", 11, "south");
    sketch.span("A", "B", 10, "north");
    sketch.span("B", "C", 10, "north");
    sketch.span("B", "C", 10.5, "south");
    sketch.span("C", "D", 10, "north");
    EXPECT_THAT(written(sketch), ElementsAre("A@0 B@10 C@20 north south", "C@0 D@10 north"));
    EXPECT_THAT(ids_of(sketch), ElementsAre("A~B~C~north+south", "C~D~D~north"));
}

TEST(Runs, StartARingWithoutJunctionAtItsLeastId) {
    LineSketch sketch;
    sketch.line({"C", "B", "D", "A", "C"}, 10);
    EXPECT_THAT(written(sketch), ElementsAre("A@0 C@10 B@20 D@30 =40"));
    EXPECT_THAT(ids_of(sketch), ElementsAre("A~C~A~"));
}

TEST(Runs, ComeBackToTheirJunction) {
    LineSketch sketch;
    sketch.line({"A", "J", "Z", "K", "L", "J"}, 10);
    EXPECT_THAT(written(sketch), ElementsAre("A@0 J@10", "J@0 L@10 K@20 Z@30 =40"));
}

TEST(Runs, KeepTwoRunsBetweenTheSameJunctionsApart) {
    LineSketch sketch;
    sketch.line({"A", "J", "M", "K", "B"}, 10);
    sketch.line({"J", "N", "K"}, 10);
    EXPECT_THAT(ids_of(sketch), ElementsAre("A~J~J~", "B~K~K~", "J~M~K~", "J~N~K~"));
}

TEST(Runs, HaveAPoleWithoutSpansToItself) {
    LineSketch sketch;
    sketch.pole("Z");
    sketch.line({"A", "B"}, 10);
    EXPECT_THAT(written(sketch), ElementsAre("A@0 B@10", "Z@0"));
    EXPECT_THAT(ids_of(sketch), ElementsAre("A~B~B~", "Z~~Z~"));
}

TEST(Runs, LeaveOutWhatIsNotKnownToJoin) {
    LineSketch sketch;
    sketch.line({"A", "B"}, 10);
    sketch.span("B", "C", std::numeric_limits<double>::quiet_NaN());
    sketch.span("B", "B", 5);
    sketch.spans().push_back({0, kNone, 5.0, kNone, kNone});
    EXPECT_EQ(sketch.graph().spans_left_out(), 3U);
    EXPECT_THAT(written(sketch), ElementsAre("A@0 B@10", "C@0"));
}

TEST(Runs, KeepTheirStationsWhenASpanIsSplit) {
    LineSketch whole;
    whole.line({"A", "B", "C"}, 40);
    LineSketch split;
    split.span("A", "B", 40);
    split.span("B", "0", 15);  // of the least id, in the middle
    split.span("0", "C", 25);
    EXPECT_THAT(written(whole), ElementsAre("A@0 B@40 C@80"));
    EXPECT_THAT(written(split), ElementsAre("A@0 B@40 0@55 C@80"));
}

TEST(Runs, AreTheSameInAnyOrderAndAnyDirection) {
    for (unsigned seed = 0; seed < 40; ++seed) {
        const LineSketch sketch = testing::random_line(seed, 120, 85, seed % 7);
        const LineSketch other = sketch.shuffled(seed + 1000);
        EXPECT_EQ(written(sketch), written(other)) << seed;
        EXPECT_EQ(ids_of(sketch), ids_of(other)) << seed;
    }
}

/// What a run is, checked of every run of random networks.
TEST(Runs, CoverEveryStepOnceAndGoOnAsFarAsTheyCan) {
    for (unsigned seed = 0; seed < 60; ++seed) {
        LineSketch sketch = testing::random_line(seed, 80, 80, seed % 9);
        for (CorridorSpan& span : sketch.spans()) {
            span.circuit = (span.from / 16U) % 3U;
        }
        const std::vector<std::string_view> circuits{"a", "b", "a"};
        const LineGraph graph{sketch.ids(), sketch.spans(), circuits};
        const Runs runs{graph};
        const auto is_end = [&](std::uint32_t pole) {
            const auto arcs = graph.arcs(graph.node_of(pole));
            return arcs.size() != 2 ||
                   graph.step(arcs[0].step).circuits != graph.step(arcs[1].step).circuits;
        };
        std::set<std::uint32_t> steps;
        std::set<std::string> names;
        for (std::size_t r = 0; r < runs.runs().size(); ++r) {
            const auto stops = runs.stops(r);
            const Runs::Run& run = runs.runs()[r];
            for (std::size_t i = 0; i < stops.size(); ++i) {
                const bool last = i + 1 == stops.size();
                EXPECT_EQ(is_end(stops[i].pole) || (run.closed && i == 0),
                          i == 0 || (last && !run.closed));
                if (stops[i].step == kNone) {
                    EXPECT_TRUE(last && !run.closed);
                    EXPECT_EQ(stops[i].station_m, run.length_m);
                    continue;
                }
                EXPECT_TRUE(steps.insert(stops[i].step).second);
                const double next = last ? run.length_m : stops[i + 1].station_m;
                EXPECT_NEAR(next - stops[i].station_m, graph.step(stops[i].step).length_m, 1e-9);
                EXPECT_EQ(graph.step(stops[i].step).circuits, run.circuits);
            }
            EXPECT_LE(graph.node_of(stops.front().pole), graph.node_of(stops.back().pole));
            names.insert(run_id(run_name(runs, r, graph, sketch.ids(), circuits)));
        }
        EXPECT_EQ(steps.size(), graph.steps().size());
        EXPECT_EQ(names.size(), runs.runs().size());
        for (std::uint32_t pole = 0; pole < sketch.ids().size(); ++pole) {
            EXPECT_FALSE(runs.places(pole).empty());
        }
    }
}

TEST(RunId, CanBeTakenApartAgain) {
    const std::vector<RunName> names{
        {"A", "B", "C", {}},
        {"A~1", "B+", "50%", {"north+east", "~"}},
        {"%7E", "", "%7E", {"x"}},
    };
    for (const RunName& name : names) {
        EXPECT_EQ(read_run_id(run_id(name)), name) << run_id(name);
    }
    EXPECT_EQ(run_id(names[1]), "A%7E1~B%2B~50%25~north%2Beast+%7E");
}

TEST(RunId, IsNothingElse) {
    for (const std::string_view text :
         {"", "A", "A~B~C", "A~B~C~D~E", "A%~B~C~", "A%41~B~C~", "A+B~B~C~", "A~B~C~x+"}) {
        EXPECT_EQ(read_run_id(text), std::nullopt) << text;
    }
}

}  // namespace
}  // namespace linewood
