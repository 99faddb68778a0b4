// make-sample: an invented network with invented inspections, of any size, for trying and timing.

#include <charconv>
#include <cstdint>
#include <cstdio>
#include <exception>
#include <iostream>
#include <map>
#include <stdexcept>
#include <string>
#include <system_error>
#include <vector>

#include <gdal.h>

#include "sample-gis/over.hpp"
#include "sample-gis/scenario.hpp"
#include "sample-gis/writer.hpp"
#include <CLI/CLI.hpp>

namespace {

using linewood::sample::Dirt;
using linewood::sample::Format;
using linewood::sample::Network;
using linewood::sample::Writer;

struct Order {
    int poles = 1200;
    std::uint64_t seed = 1;
    std::string out;
    Format format = Format::gpkg;
    Network over;
    linewood::sample::Wishes wishes;
    bool clean = false;
    bool overwrite = false;
};

/// What is wrong with a seed; empty = nothing. Left to itself the parser takes -1 for 2^64 - 1.
std::string seed_fault(const std::string& typed) {
    std::uint64_t seed = 0;
    const char* const end = typed.data() + typed.size();
    const auto read = std::from_chars(typed.data(), end, seed);
    return read.ec == std::errc{} && read.ptr == end
               ? std::string{}
               : "\"" + typed + "\" is not a whole number from 0 to 18446744073709551615";
}

void declare(CLI::App& app, Order& order) {
    static const std::map<std::string, Format> kFormats{{"gpkg", Format::gpkg},
                                                        {"flatgeobuf", Format::flatgeobuf},
                                                        {"geojson-csv", Format::geojson_csv}};
    app.add_option("--poles", order.poles, "Poles to make, the spoilt ones included")
        ->check(CLI::Range(30, linewood::sample::kMostPoles))
        ->capture_default_str();
    app.add_option("--seed", order.seed, "The same seed gives the same data")
        ->check(CLI::Validator{seed_fault, "0 to 18446744073709551615"})
        ->capture_default_str();
    app.add_option("--out", order.out, "GeoPackage file to write, or folder for the other formats")
        ->required();
    app.add_option("--format", order.format, "gpkg, flatgeobuf or geojson-csv")
        ->transform(CLI::CheckedTransformer(kFormats, CLI::ignore_case));
    app.add_flag("--clean", order.clean, "Put no mistakes in");
    app.add_flag("--single-spans",
                 order.wishes.single_spans,
                 "Draw every line span by span, none as a route");
    app.add_option("--defects", order.wishes.defects, "Share of the defects that are kept")
        ->check(CLI::Range(0.0, 1.0))
        ->capture_default_str();
    app.add_flag("--overwrite", order.overwrite, "Replace an output that exists");
    app.add_option("--over", order.over.path, "Invent inspections over the poles of this dataset");
    app.add_option("--over-poles", order.over.poles, "Its layer of poles")->capture_default_str();
    app.add_option("--over-spans", order.over.spans, "Its layer of spans, '' for none")
        ->capture_default_str();
    app.add_option(
           "--over-id", order.over.id, "Field with the pole ids; the FID where there is none")
        ->capture_default_str();
    app.add_option(
        "--over-from", order.over.from, "Field of the spans with the id of the first pole");
    app.add_option("--over-to", order.over.to, "Field of the spans with the id of the last pole");
}

void make(const Order& order) {
    const bool over = !order.over.path.empty();
    Writer writer(order.out,
                  order.format,
                  over ? crs_of(order.over) : std::string(linewood::sample::kScenarioCrs),
                  order.overwrite);
    std::vector<Dirt> dirt;
    if (over) {
        inspect_network(order.over, order.seed, writer);
    } else {
        linewood::sample::Wishes wishes = order.wishes;
        wishes.dirty = !order.clean;
        dirt = make_scenario(order.poles, order.seed, wishes, writer);
    }
    writer.finish();
    // The mistakes are the result asked for on standard output: what a reader should find.
    constexpr std::size_t kShown = 40;
    for (std::size_t i = 0; i < dirt.size() && i < kShown; ++i) {
        std::cout << dirt[i].layer << '\t' << dirt[i].feature << '\t' << dirt[i].what << '\n';
    }
    if (dirt.size() > kShown) {
        std::cout << "and " << dirt.size() - kShown << " more in the other areas\n";
    }
}

int run(int argc, char** argv) {
    CLI::App app{
        "Writes an invented pole network with inspections; prints the mistakes put in on purpose"};
    Order order;
    declare(app, order);
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        return app.exit(error) == 0 ? 0 : 2;
    }
    GDALAllRegister();
    make(order);
    return 0;
}

}  // namespace

int main(int argc, char** argv) {
    try {
        return run(argc, argv);
    } catch (const std::exception& error) {
        std::fprintf(stderr, "make-sample: %s\n", error.what());
        return 1;
    }
}
