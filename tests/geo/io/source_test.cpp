#include "geo/io/source.hpp"

#include <sys/stat.h>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood {
namespace {

using testing::copy_dataset;
using ::testing::ElementsAre;
using testing::error_of;
using ::testing::HasSubstr;
using testing::kPoles;
using testing::make_dataset;
using testing::read_lines;
using testing::TempDir;

TEST(Source, TellsTheLayersAndColumnsOfAGeoPackage) {
    const TempDir dir;
    make_dataset(dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    const Source source = Source::open((dir / "in.gpkg").string());
    EXPECT_EQ(source.driver(), "GPKG");
    EXPECT_THAT(source.layer_names(), ElementsAre("poles"));
    const LayerSchema& schema = source.schema("POLES");
    EXPECT_EQ(schema.name, "poles");
    EXPECT_EQ(schema.geometry.kind, GeometryKind::point);
    EXPECT_EQ(schema.feature_count, 3);
    EXPECT_EQ(schema.fid_name, "fid");
    EXPECT_EQ(schema.geometry_name, "geom");
    EXPECT_THAT(schema.crs_wkt, HasSubstr("WGS 84"));
    ASSERT_EQ(schema.fields.size(), 4U);
    EXPECT_EQ(schema.fields[1].name, "height");
    EXPECT_EQ(schema.fields[1].type, FieldType::integer);
    EXPECT_EQ(schema.fields[2].type, FieldType::real);
    EXPECT_EQ(schema.field_index("GIRTH"), 2U);
    EXPECT_EQ(schema.field_index("absent"), std::nullopt);
}

TEST(Source, PresentsAFolderOfMixedFilesAsLayersNamedByTheirStems) {
    const TempDir dir;
    std::filesystem::create_directory(dir / "in");
    dir.file("in/poles.geojson", kPoles);
    make_dataset(dir / "in/masts.fgb", kPoles, {"-f", "FlatGeobuf", "-nln", "another name"});
    make_dataset(dir / "in/stays.shp", kPoles, {"-f", "ESRI Shapefile"});
    dir.file("in/inspections.csv", "pole_id,inspected_on\r\n007,2024-05-01\r\n");
    dir.file("in/job.json", "{\"layers\": {}}");
    dir.file("in/readme.txt", "not a layer");
    const Source source = Source::open((dir / "in").string());
    EXPECT_THAT(source.layer_names(), ElementsAre("inspections", "masts", "poles", "stays"));
    EXPECT_EQ(source.driver(), "folder");
    EXPECT_EQ(source.schema("masts").name, "masts");
    EXPECT_EQ(read_lines(source, "poles").size(), 3U);
    EXPECT_EQ(read_lines(source, "masts").size(), 3U);
    EXPECT_EQ(read_lines(source, "stays").size(), 3U);
    EXPECT_FALSE(source.schema("inspections").has_geometry());
}

TEST(Source, TakesAFolderOfShapefilesOrOfTables) {
    const TempDir dir;
    std::filesystem::create_directory(dir / "shapes");
    make_dataset(dir / "shapes/poles.shp", kPoles, {"-f", "ESRI Shapefile"});
    make_dataset(dir / "shapes/spans.shp", kPoles, {"-f", "ESRI Shapefile"});
    EXPECT_THAT(Source::open((dir / "shapes").string()).layer_names(),
                ElementsAre("poles", "spans"));
    dir.file("tables/a.csv", "x,y\n1,\n");
    dir.file("tables/b.csv", "x,y\n1,\n");
    EXPECT_THAT(Source::open((dir / "tables/").string()).layer_names(), ElementsAre("a", "b"));
}

TEST(Source, SaysWhichFilesItIsMadeOf) {
    const TempDir dir;
    std::filesystem::create_directory(dir / "in");
    make_dataset(dir / "in/poles.shp", kPoles, {"-f", "ESRI Shapefile"});
    dir.file("in/inspections.csv", "pole_id,notes\n1,\n");
    const Source source = Source::open((dir / "in").string());
    std::vector<std::string> names;
    for (const auto& file : source.files()) {
        EXPECT_TRUE(file.is_absolute());
        names.push_back(file.filename().string());
    }
    EXPECT_THAT(names,
                ElementsAre("inspections.csv", "poles.dbf", "poles.prj", "poles.shp", "poles.shx"));
    EXPECT_EQ(source.files("inspections").size(), 1U);
}

TEST(Source, NamesTheLayersThereAre) {
    const TempDir dir;
    make_dataset(dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "masts"});
    const Source source = Source::open((dir / "in.gpkg").string());
    EXPECT_FALSE(source.has_layer("poles"));
    const std::string said = error_of([&] { source.schema("poles"); });
    EXPECT_THAT(said, HasSubstr("in.gpkg"));
    EXPECT_THAT(said, HasSubstr("there is no layer 'poles'; the layers are: masts"));
}

TEST(Source, AsksWhichOfTwoFilesIsMeant) {
    const TempDir dir;
    dir.file("in/poles.csv", "a\n1\n");
    dir.file("in/poles.geojson", kPoles);
    const Source source = Source::open((dir / "in").string());
    EXPECT_THAT(error_of([&] { source.schema("poles"); }),
                HasSubstr("several files could be meant (poles.csv, poles.geojson)"));
}

TEST(Source, SaysWhatToDoAboutAMissingOrForeignFile) {
    const TempDir dir;
    EXPECT_THAT(error_of([&] { Source::open((dir / "none.gpkg").string()); }),
                HasSubstr("there is no such file or folder"));
    dir.file("letter.txt", "Dear reader");
    EXPECT_THAT(error_of([&] { Source::open((dir / "letter.txt").string()); }),
                HasSubstr("not a vector dataset"));
    dir.file("empty.gpkg", "");
    EXPECT_THAT(error_of([&] { Source::open((dir / "empty.gpkg").string()); }),
                HasSubstr("the file is empty"));
    std::filesystem::create_directory(dir / "folder");
    EXPECT_THAT(error_of([&] { Source::open((dir / "folder").string()); }),
                HasSubstr("holds no vector layer"));
}

TEST(Source, SaysThatACsvNeedsTwoColumns) {
    const TempDir dir;
    dir.file("one.csv", "pole_id\n007\n");
    EXPECT_THAT(error_of([&] { Source::open((dir / "one.csv").string()); }),
                HasSubstr("at least two columns"));
}

TEST(Source, TakesAPictureForNoVectorDataset) {
    const TempDir dir;
    dir.file("grid.asc", "ncols 1\nnrows 1\nxllcorner 0\nyllcorner 0\ncellsize 1\n5\n");
    EXPECT_THAT(error_of([&] { Source::open((dir / "grid.asc").string()); }),
                HasSubstr("not a vector dataset"));
}

TEST(Source, SaysThatABrokenGeoJsonIsBroken) {
    const TempDir dir;
    dir.file("cut.geojson", std::string{kPoles}.substr(0, 300));
    const std::string said = error_of([&] {
        const Source source = Source::open((dir / "cut.geojson").string());
        read_lines(source, source.layer_names().front());
    });
    EXPECT_THAT(said, HasSubstr("cut.geojson"));
}

TEST(Source, LeavesNothingBesideItsInputAndDoesNotTouchIt) {
    const TempDir dir;
    make_dataset(dir / "a.gpkg", kPoles, {"-f", "GPKG"});
    make_dataset(dir / "b.fgb", kPoles, {"-f", "FlatGeobuf"});
    make_dataset(dir / "c.shp", kPoles, {"-f", "ESRI Shapefile"});
    dir.file("d.geojson", kPoles);
    dir.file("e.csv", "id,x,y\n007,1,2\n");
    const auto before = dir.names();
    std::vector<std::string> contents;
    for (const auto& name : before) {
        contents.push_back(testing::content_of(dir / name));
    }
    for (const char* name : {"a.gpkg", "b.fgb", "c.shp", "d.geojson", "e.csv"}) {
        const Source source = Source::open((dir / name).string());
        source.files();
        EXPECT_FALSE(read_lines(source, source.layer_names().front()).empty()) << name;
        EXPECT_EQ(dir.names(), before) << name;
    }
    EXPECT_EQ(dir.names(), before);
    for (std::size_t i = 0; i < before.size(); ++i) {
        EXPECT_EQ(testing::content_of(dir / before[i]), contents[i]) << before[i];
    }
}

TEST(Source, ReadsAWriteAheadGeoPackageWithoutSideFiles) {
    const TempDir dir;
    make_dataset(dir / "wal.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    testing::sql_rows(dir / "wal.gpkg", "PRAGMA journal_mode = WAL");
    ASSERT_THAT(dir.names(), ElementsAre("wal.gpkg"));
    {
        const Source source = Source::open((dir / "wal.gpkg").string());
        EXPECT_EQ(read_lines(source, "poles").size(), 3U);
    }
    EXPECT_THAT(dir.names(), ElementsAre("wal.gpkg"));
}

TEST(Source, SeesTheRowsThatAreStillInTheWriteAheadLog) {
    const TempDir dir;
    make_dataset(dir / "wal.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    const auto script = dir.file("writer.py",
                                 "import sqlite3, sys, os, signal\n"
                                 "con = sqlite3.connect(sys.argv[1])\n"
                                 "con.execute('PRAGMA journal_mode = WAL')\n"
                                 "con.execute('DROP TRIGGER IF EXISTS rtree_poles_geom_insert')\n"
                                 "con.execute(\"INSERT INTO poles (pole_id) VALUES ('late')\")\n"
                                 "con.commit()\n"
                                 "os.kill(os.getpid(), signal.SIGKILL)\n");
    testing::run("/usr/bin/python3 " + script.string() + " " + (dir / "wal.gpkg").string());
    ASSERT_TRUE(std::filesystem::exists(dir / "wal.gpkg-wal"));
    // Whether its index of the log is there or not, nothing of it is touched.
    for (const bool with_index : {true, false}) {
        if (!with_index) {
            std::filesystem::remove(dir / "wal.gpkg-shm");
        }
        const auto names = dir.names();
        std::vector<std::string> before;
        std::vector<std::filesystem::file_time_type> times;
        for (const std::string& name : names) {
            before.push_back(testing::content_of(dir / name));
            times.push_back(std::filesystem::last_write_time(dir / name));
        }
        {
            const Source source = Source::open((dir / "wal.gpkg").string());
            EXPECT_EQ(read_lines(source, "poles").size(), 4U);
            EXPECT_EQ(read_lines(source, "poles", false).size(), 4U);
            EXPECT_THAT(source.files(), ElementsAre(dir / "wal.gpkg", dir / "wal.gpkg-wal"));
        }
        EXPECT_EQ(dir.names(), names);
        for (std::size_t i = 0; i < names.size(); ++i) {
            EXPECT_TRUE(testing::content_of(dir / names[i]) == before[i]) << names[i];
            EXPECT_EQ(std::filesystem::last_write_time(dir / names[i]), times[i]) << names[i];
        }
    }
}

TEST(Source, LeavesNoCopiesAmongTheTemporaryFiles) {
    const TempDir dir;
    const TempDir temporary;
    dir.file("t.csv", "a,b\n1,2\n3\n");
    ::setenv("TMPDIR", temporary.path().c_str(), 1);
    {
        const Source source = Source::open((dir / "t.csv").string());
        EXPECT_EQ(temporary.names().size(), 1U);
        EXPECT_EQ(read_lines(source, "t").size(), 2U);
    }
    EXPECT_THAT(temporary.names(), ElementsAre());
    ::setenv("TMPDIR", (temporary / "none").c_str(), 1);
    EXPECT_THAT(error_of([&] { Source::open((dir / "t.csv").string()); }), HasSubstr("TMPDIR"));
    ::unsetenv("TMPDIR");
}

TEST(Source, RefusesAGeoPackageWithAnUnfinishedChange) {
    const TempDir dir;
    make_dataset(dir / "hot.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    const auto script =
        dir.file("writer.py",
                 "import sqlite3, sys, os, signal\n"
                 "con = sqlite3.connect(sys.argv[1])\n"
                 "con.execute('PRAGMA cache_size = 1')\n"
                 "con.execute('PRAGMA cache_spill = 1')\n"
                 "con.execute('BEGIN')\n"
                 "con.execute('CREATE TABLE big (t TEXT)')\n"
                 "for i in range(2000):\n"
                 "    con.execute(\"INSERT INTO big VALUES (hex(randomblob(500)))\")\n"
                 "os.kill(os.getpid(), signal.SIGKILL)\n");
    testing::run("/usr/bin/python3 " + script.string() + " " + (dir / "hot.gpkg").string());
    ASSERT_TRUE(std::filesystem::exists(dir / "hot.gpkg-journal"));
    EXPECT_THAT(error_of([&] { Source::open((dir / "hot.gpkg").string()); }),
                HasSubstr("a change to this GeoPackage was not finished"));
}

TEST(Source, SaysThatALockedGeoPackageIsOpenElsewhere) {
    const TempDir dir;
    make_dataset(dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    const auto script = dir.file("locker.py",
                                 "import sqlite3, sys, time\n"
                                 "con = sqlite3.connect(sys.argv[1], isolation_level=None)\n"
                                 "con.execute('BEGIN EXCLUSIVE')\n"
                                 "print('locked', flush=True)\n"
                                 "sys.stdin.read()\n");
    std::FILE* locker = ::popen(("/usr/bin/python3 " + script.string() + " " +
                                 (dir / "in.gpkg").string() + " > " + (dir / "said").string())
                                    .c_str(),
                                "w");
    ASSERT_NE(locker, nullptr);
    for (int i = 0; i < 200 && testing::content_of(dir / "said").empty(); ++i) {
        testing::run("sleep 0.05");
    }
    ::setenv("OGR_SQLITE_BUSY_TIMEOUT", "100", 1);
    const std::string said = error_of([&] { Source::open((dir / "in.gpkg").string()); });
    ::unsetenv("OGR_SQLITE_BUSY_TIMEOUT");
    ::pclose(locker);
    EXPECT_THAT(said, HasSubstr("open in another program"));
}

TEST(Source, NoticesThatAGeoPackageIsDamaged) {
    const TempDir dir;
    std::string many = R"({"type":"FeatureCollection","features":[)";
    for (int i = 0; i < 3000; ++i) {
        many += std::string{i == 0 ? "" : ","} +
                R"({"type":"Feature","properties":{"t":"a rather long text to fill pages )" +
                std::to_string(i) + R"("},"geometry":null})";
    }
    make_dataset(dir / "in.gpkg", many + "]}", {"-f", "GPKG", "-nln", "poles"});
    std::string bytes = testing::content_of(dir / "in.gpkg");
    ASSERT_GT(bytes.size(), 200000U);
    for (std::size_t i = 150000; i < 180000; ++i) {
        bytes[i] = 'x';
    }
    dir.file("in.gpkg", bytes);
    for (const bool columnar : {false, true}) {
        const std::string said = error_of([&] {
            const Source source = Source::open((dir / "in.gpkg").string());
            read_lines(source, "poles", columnar);
        });
        EXPECT_THAT(said, HasSubstr("malformed")) << columnar;
        EXPECT_THAT(said, HasSubstr("restore it from a copy")) << columnar;
    }
}

TEST(Source, NoticesThatAFlatGeobufEndsTooEarly) {
    const TempDir dir;
    make_dataset(dir / "in.fgb", kPoles, {"-f", "FlatGeobuf"});
    const std::string bytes = testing::content_of(dir / "in.fgb");
    for (const std::size_t cut : {bytes.size() - 1, bytes.size() - 150}) {
        dir.file("cut.fgb", bytes.substr(0, cut));
        for (const bool columnar : {false, true}) {
            const std::string said = error_of([&] {
                const Source source = Source::open((dir / "cut.fgb").string());
                read_lines(source, source.layer_names().front(), columnar);
            });
            EXPECT_THAT(said, HasSubstr("cut.fgb")) << cut << " " << columnar;
        }
    }
}

TEST(Source, NoticesThatAShapefileEndsTooEarly) {
    const TempDir dir;
    make_dataset(dir / "in.shp", kPoles, {"-f", "ESRI Shapefile"});
    for (const char* part : {"in.shp", "in.dbf"}) {
        const std::string bytes = testing::content_of(dir / part);
        dir.file(part, bytes.substr(0, bytes.size() - 60));
        const std::string said = error_of([&] {
            const Source source = Source::open((dir / "in.shp").string());
            read_lines(source, "in");
        });
        EXPECT_THAT(said, HasSubstr("in.shp")) << part;
        dir.file(part, bytes);
    }
    EXPECT_EQ(read_lines(Source::open((dir / "in.shp").string()), "in").size(), 3U);
}

TEST(Source, ReadsGeoJsonLines) {
    const TempDir dir;
    dir.file("poles.geojsonl",
             "{\"type\":\"Feature\",\"properties\":{\"pole_id\":\"007\"},\"geometry\":"
             "{\"type\":\"Point\",\"coordinates\":[1,2]}}\n"
             "{\"type\":\"Feature\",\"properties\":{\"pole_id\":\"008\"},\"geometry\":null}\n");
    const Source source = Source::open((dir / "poles.geojsonl").string());
    EXPECT_EQ(read_lines(source, source.layer_names().front()).size(), 2U);
}

TEST(Source, SaysThatADatabaseCannotBeReached) {
    EXPECT_THAT(error_of([] { Source::open("PG:host=127.0.0.1 port=1 dbname=none"); }),
                HasSubstr("opening failed"));
}

TEST(Source, PassesOverLinksThatLeadNowhereAndRefusesPipes) {
    const TempDir dir;
    dir.file("in/poles.csv", "pole_id,n\nA,1\n");
    std::filesystem::create_symlink("loop", dir / "in" / "loop");
    std::filesystem::create_symlink("loop.shp", dir / "in" / "loop.shp");
    std::filesystem::create_symlink("gone.csv", dir / "in" / "spans.csv");
    EXPECT_THAT(Source::open((dir / "in").string()).layer_names(), ElementsAre("poles"));
    ASSERT_EQ(::mkfifo((dir / "pipe.csv").c_str(), 0600), 0);
    EXPECT_THAT(testing::error_of([&] { Source::open((dir / "pipe.csv").string()); }),
                HasSubstr("put what it gives into a file first"));
}

TEST(Source, PrintsNothing) {
    const TempDir dir;
    dir.file("cut.geojson", std::string{kPoles}.substr(0, 300));
    ::testing::internal::CaptureStderr();
    error_of([&] { Source::open((dir / "cut.geojson").string()); });
    error_of([&] { Source::open((dir / "none.gpkg").string()); });
    EXPECT_EQ(::testing::internal::GetCapturedStderr(), "");
}

TEST(Source, GivesItsHandleToOneReaderAfterAnother) {
    const TempDir dir;
    make_dataset(dir / "in.gpkg", kPoles, {"-f", "GPKG", "-nln", "poles"});
    const Source source = Source::open((dir / "in.gpkg").string());
    ReadOptions only_height;
    only_height.columns = {1};
    only_height.geometry = false;
    {
        FeatureReader first{source, "poles", only_height};
        FeatureReader second{source, "poles"};
        FeatureBatch a;
        FeatureBatch b;
        ASSERT_TRUE(first.next(a));
        ASSERT_TRUE(second.next(b));
        EXPECT_TRUE(a.is_null(0, 0));
        EXPECT_FALSE(b.is_null(0, 0));
    }
    EXPECT_THAT(read_lines(source, "poles").front(), HasSubstr("pole_id=007"));
}

}  // namespace
}  // namespace linewood
