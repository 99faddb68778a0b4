#include <cmath>
#include <csignal>
#include <limits>

#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "geo/io/output_dataset.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood {
namespace {

using ::testing::Contains;
using testing::copy_dataset;
using ::testing::ElementsAre;
using testing::error_of;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::kPoles;
using testing::make_dataset;
using testing::TempDir;

LayerPlan table_plan(const std::string& name, std::vector<Field> fields) {
    LayerPlan plan;
    plan.name = name;
    plan.added = std::move(fields);
    return plan;
}

LayerPlan point_plan(const std::string& name, std::vector<Field> fields) {
    LayerPlan plan = table_plan(name, std::move(fields));
    plan.geometry.kind = GeometryKind::point;
    plan.crs_wkt = "EPSG:4326";
    return plan;
}

struct FormatCase {
    OutputFormat format;
    const char* target;
    const char* main;
};
void PrintTo(const FormatCase& c, std::ostream* out) { *out << name_of(c.format); }

constexpr FormatCase kFormats[] = {
    {OutputFormat::geopackage, "out.gpkg", "out.gpkg"},
    {OutputFormat::flatgeobuf, "out", "out/poles.fgb"},
    {OutputFormat::geojson, "out", "out/poles.geojson"},
    {OutputFormat::shapefile, "out", "out/poles.shp"},
    {OutputFormat::csv, "out", "out/poles.csv"},
};

class Output : public ::testing::TestWithParam<FormatCase> {
protected:
    TempDir dir_;
    std::filesystem::path target() const { return dir_ / GetParam().target; }
    std::filesystem::path main() const { return dir_ / GetParam().main; }
    /// A dataset with one row, complete but for finish().
    OutputDataset begun(OutputOptions options = {}) const {
        OutputDataset out = OutputDataset::create(target(), GetParam().format, options);
        LayerWriter& writer =
            out.add_layer(point_plan("poles", {{"pole_id"}, {"height", FieldType::real}}));
        writer.append(std::vector<Cell>{std::string{"007"}, 12.5}, Point{1, 2});
        return out;
    }
};

TEST_P(Output, IsThereOnlyAfterFinish) {
    {
        OutputDataset out = begun();
        EXPECT_FALSE(std::filesystem::exists(target()));
        EXPECT_EQ(dir_.names().size(), 1U);
        EXPECT_EQ(dir_.names().front().front(), '.');
        const OutputSummary summary = out.finish();
        ASSERT_EQ(summary.layers.size(), 1U);
        EXPECT_EQ(summary.layers[0].rows, 1);
        EXPECT_TRUE(std::filesystem::exists(main()));
    }
    EXPECT_THAT(dir_.names(), ElementsAre(GetParam().target));
}

TEST_P(Output, LeavesNothingWithoutFinish) {
    { const OutputDataset out = begun(); }
    EXPECT_THAT(dir_.names(), IsEmpty());
}

TEST_P(Output, LeavesNothingAfterAbort) {
    OutputDataset out = begun();
    out.abort();
    EXPECT_THAT(dir_.names(), IsEmpty());
    out.abort();
}

TEST_P(Output, RefusesATargetThatExistsNamingTheOption) {
    begun().finish();
    EXPECT_THAT(error_of([&] { begun(); }), HasSubstr("--overwrite"));
    EXPECT_THAT(dir_.names(), ElementsAre(GetParam().target));
}

TEST_P(Output, ReplacesATargetWhenAllowed) {
    begun().finish();
    OutputOptions options;
    options.overwrite = true;
    OutputDataset out = OutputDataset::create(target(), GetParam().format, options);
    LayerWriter& writer = out.add_layer(point_plan("poles", {{"other"}, {"more"}}));
    writer.append(std::vector<Cell>{std::string{"new"}, {}}, Point{3, 4});
    out.finish();
    EXPECT_THAT(dir_.names(), ElementsAre(GetParam().target));
    EXPECT_THAT(testing::ogr_lines(main()).at(0), HasSubstr("other=new"));
}

TEST_P(Output, KeepsTheOldTargetWhenReplacingFails) {
    begun().finish();
    OutputOptions options;
    options.overwrite = true;
    { const OutputDataset out = begun(options); }
    EXPECT_THAT(testing::ogr_lines(main()).at(0), HasSubstr("pole_id=007"));
    EXPECT_THAT(dir_.names(), ElementsAre(GetParam().target));
}

TEST_P(Output, RemovesWhatADeadRunLeft) {
    const pid_t child = ::fork();
    if (child == 0) {
        OutputDataset out = begun();
        ::_exit(0);  // as if killed: no destructor
    }
    ::waitpid(child, nullptr, 0);
    ASSERT_FALSE(dir_.names().empty());
    const OutputSummary summary = begun().finish();
    EXPECT_THAT(dir_.names(), ElementsAre(GetParam().target));
    ASSERT_FALSE(summary.notes.empty());
    EXPECT_THAT(summary.notes[0].message, HasSubstr("left unfinished by an earlier run"));
}

TEST_P(Output, LeavesAloneWhatALivingRunIsWriting) {
    OutputDataset first = begun();
    const auto before = dir_.names();
    OutputDataset second = begun();
    EXPECT_THAT(dir_.names(), ::testing::IsSupersetOf(before));
    second.finish();
    EXPECT_THAT(error_of([&] { first.finish(); }), HasSubstr("exist"));
    EXPECT_THAT(dir_.names(), ElementsAre(GetParam().target));
}

/// Many rows under a limit of file size, in a child: the error it meets, through a file.
std::string error_when_full(const std::filesystem::path& said, const std::function<void()>& write) {
    const pid_t child = ::fork();
    if (child == 0) {
        ::signal(SIGXFSZ, SIG_IGN);
        const rlimit limit{100000, 100000};
        ::setrlimit(RLIMIT_FSIZE, &limit);
        std::ofstream{said} << error_of(write);
        ::_exit(0);
    }
    ::waitpid(child, nullptr, 0);
    return testing::content_of(said);
}

TEST_P(Output, NoticesAFullDiskAndLeavesNothing) {
    const TempDir elsewhere;
    const std::string said = error_when_full(elsewhere / "said", [&] {
        OutputDataset out = OutputDataset::create(target(), GetParam().format);
        LayerWriter& writer = out.add_layer(point_plan("poles", {{"text"}, {"other"}}));
        for (int i = 0; i < 20000; ++i) {
            writer.append(std::vector<Cell>{std::string(50, 'x'), {}}, Point{1.0 * i, 2});
        }
        out.finish();
    });
    EXPECT_THAT(said, HasSubstr("disk"));
    EXPECT_THAT(dir_.names(), IsEmpty());
}

TEST_P(Output, SaysThatItsFolderCannotBeWritten) {
    // The superuser may write anywhere but on a read-only mount.
    const std::filesystem::path place = dir_ / "place";
    std::filesystem::create_directory(place);
    const bool mounted = ::mount("none", place.c_str(), "tmpfs", MS_RDONLY, nullptr) == 0;
    const std::filesystem::path where = mounted ? place : std::filesystem::path{"/proc"};
    const std::string said =
        error_of([&] { OutputDataset::create(where / GetParam().target, GetParam().format); });
    if (mounted) {
        ::umount(place.c_str());
    }
    EXPECT_THAT(said, HasSubstr("cannot be created"));
}

TEST_P(Output, SaysThatItsFolderDoesNotExist) {
    EXPECT_THAT(error_of([&] {
                    OutputDataset::create(dir_ / "none" / GetParam().target, GetParam().format);
                }),
                HasSubstr("does not exist; create it first"));
}

TEST_P(Output, WritesAnEmptyLayer) {
    OutputDataset out = OutputDataset::create(target(), GetParam().format);
    out.add_layer(point_plan("poles", {{"a"}, {"b", FieldType::real}}));
    EXPECT_EQ(out.finish().layers[0].rows, 0);
    EXPECT_THAT(testing::ogr_lines(main()), IsEmpty());
}

TEST_P(Output, WritesEveryKindOfCell) {
    OutputDataset out = OutputDataset::create(target(), GetParam().format);
    LayerWriter& writer = out.add_layer(point_plan("poles",
                                                   {{"t"},
                                                    {"r", FieldType::real},
                                                    {"i", FieldType::integer},
                                                    {"l", FieldType::integer64},
                                                    {"b", FieldType::boolean},
                                                    {"d", FieldType::date}}));
    writer.append(std::vector<Cell>{std::string{"木 \"x\", y"},
                                    0.1,
                                    std::int64_t{-5},
                                    std::int64_t{9007199254740993},
                                    true,
                                    Date::from_ymd(2024, 2, 29).value()},
                  Point{1, 2});
    writer.append(std::vector<Cell>(6), Point{3, 4});
    writer.append(std::vector<Cell>{std::int64_t{7},
                                    std::numeric_limits<double>::quiet_NaN(),
                                    2.5,
                                    std::string{"x"},
                                    false,
                                    {}},
                  Point{5, 6});
    const OutputSummary summary = out.finish();
    const Source source = Source::open(target().string());
    std::vector<std::string> lines;
    FeatureReader reader{source, "poles"};
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            std::string line;
            for (std::size_t f = 0; f < 6; ++f) {
                line += batch.is_null(row, f) ? "null|" : batch.text(row, f) + "|";
            }
            lines.push_back(line);
        }
    }
    const bool shapefile = GetParam().format == OutputFormat::shapefile;
    EXPECT_THAT(lines,
                ::testing::UnorderedElementsAre(
                    std::string{"木 \"x\", y|0.1|-5|9007199254740993|"} +
                        (shapefile ? "1" : "true") + "|2024-02-29|",
                    "null|null|null|null|null|null|",
                    std::string{"7|null|null|null|"} + (shapefile ? "0" : "false") + "|null|"));
    // NaN, 2.5 in an integer column, text in an integer column.
    EXPECT_GE(summary.notes.size(), 3U);
}

TEST_P(Output, KeepsEveryRowAndValueOfItsInput) {
    make_dataset(dir_ / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    const Source source = Source::open((dir_ / "in.gpkg").string());
    const OutputSummary summary = copy_dataset(source, target(), GetParam().format);
    EXPECT_EQ(summary.layers[0].rows, 3);
    const Source copy = Source::open(target().string());
    const auto strip = [](std::vector<std::string> lines) {
        for (std::string& line : lines) {
            line = line.substr(line.find(';'));
            // DBF and CSV cannot tell empty text from null when read back.
            const auto at = line.find("note=null");
            if (at != std::string::npos) {
                line.replace(at, 9, "note=");
            }
        }
        std::sort(lines.begin(), lines.end());
        return lines;
    };
    auto expected = strip(testing::read_lines(source, "poles"));
    auto got = strip(testing::read_lines(copy, "poles"));
    if (GetParam().format == OutputFormat::csv) {  // with its coordinates as columns
        for (std::string& line : got) {
            line.erase(line.find("lon="), line.rfind(';') + 1 - line.find("lon="));
        }
    }
    EXPECT_EQ(got, expected);
}

TEST_P(Output, KeepsALongTextOrSaysThatItWasCut) {
    OutputDataset out = OutputDataset::create(target(), GetParam().format);
    LayerWriter& writer = out.add_layer(point_plan("poles", {{"t"}, {"u"}}));
    writer.append(std::vector<Cell>{std::string(10000, 'x'), {}}, Point{1, 2});
    const OutputSummary summary = out.finish();
    const std::string line = testing::ogr_lines(main()).at(0);
    if (GetParam().format == OutputFormat::shapefile) {
        ASSERT_EQ(summary.notes.size(), 1U);
        EXPECT_EQ(summary.notes[0].field, "t");
        EXPECT_THAT(summary.notes[0].message, HasSubstr("254"));
        EXPECT_THAT(line, HasSubstr("t=" + std::string(254, 'x') + ";"));
    } else {
        EXPECT_THAT(line, HasSubstr("t=" + std::string(10000, 'x') + ";"));
    }
}

TEST_P(Output, WritesGoodUtf8WhateverComes) {
    OutputDataset out = OutputDataset::create(target(), GetParam().format);
    LayerWriter& writer = out.add_layer(point_plan("poles", {{"t"}, {"u"}}));
    writer.append(std::vector<Cell>{std::string{"a\xFF"
                                                "b"},
                                    std::string{"c\0d", 3}},
                  Point{1, 2});
    const OutputSummary summary = out.finish();
    EXPECT_THAT(testing::ogr_lines(main()).at(0), HasSubstr("u=c;"));
    if (GetParam().format != OutputFormat::geopackage) {
        EXPECT_THAT(testing::ogr_lines(main()).at(0),
                    HasSubstr("t=a\xEF\xBF\xBD"
                              "b;"));
        ASSERT_FALSE(summary.notes.empty());
        EXPECT_THAT(summary.notes[0].message, HasSubstr("UTF-8"));
    }
}

TEST_P(Output, GivesTheSameBytesForTheSameInput) {
    const TempDir other;
    OutputOptions options;
    options.last_change = "2026-01-31T12:00:00.000Z";
    begun(options).finish();
    const std::string first = testing::content_of(main());
    options.overwrite = true;
    begun(options).finish();
    EXPECT_TRUE(testing::content_of(main()) == first);
}

INSTANTIATE_TEST_SUITE_P(Formats, Output, ::testing::ValuesIn(kFormats), [](const auto& chosen) {
    return std::string{name_of(chosen.param.format)};
});

TEST(OutputFormats, AreKnownByNameAndPath) {
    EXPECT_EQ(output_format_named("FlatGeobuf"), OutputFormat::flatgeobuf);
    EXPECT_EQ(output_format_named("gpkg"), OutputFormat::geopackage);
    EXPECT_EQ(output_format_named("docx"), std::nullopt);
    EXPECT_EQ(output_format_of_path("a/b.GPKG"), OutputFormat::geopackage);
    EXPECT_EQ(output_format_of_path("a/b"), std::nullopt);
    for (const FormatCase& c : kFormats) {
        EXPECT_EQ(output_format_named(name_of(c.format)), c.format);
    }
}

TEST(OutputPlaces, NeverReplaceAFolderWithForeignFiles) {
    const TempDir dir;
    dir.file("home/thesis.docx", "mine");
    OutputOptions options;
    options.overwrite = true;
    EXPECT_THAT(error_of([&] { OutputDataset::create(dir / "home", OutputFormat::csv, options); }),
                HasSubstr("thesis.docx"));
    EXPECT_EQ(testing::content_of(dir / "home/thesis.docx"), "mine");
}

TEST(OutputPlaces, RefuseATargetThatIsOpenElsewhere) {
    const TempDir dir;
    dir.file("out.gpkg", "x");
    dir.file("out.gpkg-wal", "x");
    OutputOptions options;
    options.overwrite = true;
    EXPECT_THAT(error_of([&] {
                    OutputDataset::create(dir / "out.gpkg", OutputFormat::geopackage, options);
                }),
                HasSubstr("open in another program"));
}

TEST(OutputPlaces, RefuseAFileForAFolderAndAFolderForAFile) {
    const TempDir dir;
    dir.file("file", "x");
    std::filesystem::create_directory(dir / "folder.gpkg");
    OutputOptions options;
    options.overwrite = true;
    EXPECT_THAT(error_of([&] { OutputDataset::create(dir / "file", OutputFormat::csv, options); }),
                HasSubstr("give the name of a folder"));
    EXPECT_THAT(error_of([&] {
                    OutputDataset::create(dir / "folder.gpkg", OutputFormat::geopackage, options);
                }),
                HasSubstr("give the name of a file"));
}

TEST(OutputPlaces, FollowASymbolicLink) {
    const TempDir dir;
    std::filesystem::create_directory(dir / "real");
    dir.file("real/out.gpkg", "old");
    std::filesystem::create_symlink(dir / "real/out.gpkg", dir / "link.gpkg");
    OutputOptions options;
    options.overwrite = true;
    OutputDataset out = OutputDataset::create(dir / "link.gpkg", OutputFormat::geopackage, options);
    out.add_layer(table_plan("t", {{"a"}}));
    out.finish();
    EXPECT_TRUE(std::filesystem::is_symlink(dir / "link.gpkg"));
    EXPECT_EQ(testing::content_of(dir / "real/out.gpkg").substr(0, 13), "SQLite format");
}

TEST(Tables, GoToACsvInFolderFormats) {
    const TempDir dir;
    for (const OutputFormat format :
         {OutputFormat::flatgeobuf, OutputFormat::geojson, OutputFormat::shapefile}) {
        const std::string name = name_of(format);
        OutputDataset out = OutputDataset::create(dir / name, format);
        LayerWriter& writer = out.add_layer(table_plan(
            "inspections",
            {{"pole_id"},
             {"girth", FieldType::real, 0, false, false, "in", "Girth at the groundline"}}));
        writer.append(std::vector<Cell>{std::string{"007"}, 35.5}, std::nullopt);
        out.finish();
        EXPECT_THAT(dir.names(name), ElementsAre("fields.csv", "fields.json", "inspections.csv"));
        EXPECT_EQ(testing::content_of(dir.path() / name / "inspections.csv"),
                  "pole_id,girth\r\n007,35.5\r\n");
        EXPECT_THAT(
            testing::content_of(dir.path() / name / "fields.csv"),
            HasSubstr("inspections,inspections.csv,girth,girth,real,in,Girth at the groundline"));
    }
}

}  // namespace
}  // namespace linewood
