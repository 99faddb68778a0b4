// The committed sample is what make-sample writes: compared by content, not by bytes, because the
// bytes of a GeoPackage change with the version of its library.

#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include <unistd.h>

#include <gdal_priv.h>
#include <gtest/gtest.h>
#include <ogrsf_frmts.h>

#include "tests/places/places.hpp"

namespace linewood {
namespace {

using testing::make_sample_program;
using testing::sample_file;

namespace fs = std::filesystem;

/// A folder of its own that goes away with the test.
class SampleTest : public ::testing::Test {
protected:
    void SetUp() override {
        GDALAllRegister();
        folder_ = fs::temp_directory_path() / ("linewood-sample-" + std::to_string(getpid()));
        fs::create_directories(folder_);
    }
    void TearDown() override { fs::remove_all(folder_); }

    /// Runs make-sample, its own output thrown away; @return its exit code
    int make(const std::string& arguments) const {
        const std::string command = "\"" + make_sample_program() + "\" " + arguments +
                                    " > /dev/null 2> \"" + path("messages") + "\"";
        const int status = std::system(command.c_str());  // NOLINT(cert-env33-c): a path we made
        return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    }
    std::string path(const std::string& name) const { return (folder_ / name).string(); }

private:
    fs::path folder_;
};

GDALDatasetUniquePtr open(const std::string& path) {
    return GDALDatasetUniquePtr{GDALDataset::Open(path.c_str(), GDAL_OF_VECTOR)};
}

void expect_same_layer(OGRLayer& a, OGRLayer& b, double tolerance) {
    SCOPED_TRACE(a.GetName());
    ASSERT_EQ(a.GetLayerDefn()->GetFieldCount(), b.GetLayerDefn()->GetFieldCount());
    ASSERT_EQ(a.GetFeatureCount(), b.GetFeatureCount());
    a.ResetReading();
    b.ResetReading();
    while (true) {
        const OGRFeatureUniquePtr x{a.GetNextFeature()};
        const OGRFeatureUniquePtr y{b.GetNextFeature()};
        ASSERT_EQ(x == nullptr, y == nullptr);
        if (!x) {
            return;
        }
        ASSERT_EQ(x->GetFID(), y->GetFID());
        for (int i = 0; i < a.GetLayerDefn()->GetFieldCount(); ++i) {
            ASSERT_STREQ(x->GetFieldAsString(i), y->GetFieldAsString(i))
                << x->GetFID() << " " << a.GetLayerDefn()->GetFieldDefn(i)->GetNameRef();
            ASSERT_EQ(x->IsFieldSetAndNotNull(i), y->IsFieldSetAndNotNull(i));
        }
        const OGRGeometry* p = x->GetGeometryRef();
        const OGRGeometry* q = y->GetGeometryRef();
        ASSERT_EQ(p == nullptr, q == nullptr);
        if (p != nullptr) {
            OGREnvelope pe;
            OGREnvelope qe;
            p->getEnvelope(&pe);
            q->getEnvelope(&qe);
            ASSERT_EQ(p->WkbSize(), q->WkbSize());
            ASSERT_NEAR(pe.MinX, qe.MinX, tolerance);
            ASSERT_NEAR(pe.MaxX, qe.MaxX, tolerance);
            ASSERT_NEAR(pe.MinY, qe.MinY, tolerance);
            ASSERT_NEAR(pe.MaxY, qe.MaxY, tolerance);
        }
    }
}

void expect_same(const std::string& a, const std::string& b, double tolerance) {
    const auto x = open(a);
    const auto y = open(b);
    ASSERT_TRUE(x && y) << a << " " << b;
    ASSERT_EQ(x->GetLayerCount(), y->GetLayerCount());
    for (int i = 0; i < x->GetLayerCount(); ++i) {
        expect_same_layer(*x->GetLayer(i), *y->GetLayer(i), tolerance);
    }
}

TEST_F(SampleTest, RefusesASeedThatIsNone) {
    for (const char* const seed : {"-1", "1.5", "18446744073709551616", "x"}) {
        EXPECT_EQ(
            make("--poles 30 --seed " + std::string{seed} + " --out \"" + path("s.gpkg") + "\""), 2)
            << seed;
        EXPECT_FALSE(fs::exists(path("s.gpkg")));
    }
    EXPECT_EQ(make("--poles 30 --seed 18446744073709551615 --out \"" + path("s.gpkg") + "\""), 0);
}

TEST_F(SampleTest, the_geopackage_is_made_again_the_same) {
    ASSERT_EQ(make("--poles 1200 --seed 23 --out \"" + path("sample.gpkg") + "\""), 0);
    expect_same(sample_file("sample.gpkg"), path("sample.gpkg"), 0.011);
}

TEST_F(SampleTest, the_geojson_and_csv_files_are_made_again_the_same) {
    ASSERT_EQ(make("--poles 1200 --seed 23 --format geojson-csv --out \"" + path("g") + "\""), 0);
    for (const char* name : {"poles.geojson", "spans.geojson", "inspections.csv", "defects.csv"}) {
        SCOPED_TRACE(name);
        expect_same(
            sample_file(std::string{"geojson-csv/"} + name), path(std::string("g/") + name), 2e-7);
    }
}

TEST_F(SampleTest, the_two_forms_hold_the_same_content) {
    const auto whole = open(sample_file("sample.gpkg"));
    ASSERT_TRUE(whole);
    for (const char* layer : {"poles", "spans", "inspections", "defects"}) {
        const std::string ending =
            std::string(layer) == "poles" || std::string(layer) == "spans" ? ".geojson" : ".csv";
        const auto part = open(sample_file("geojson-csv/" + (layer + ending)));
        ASSERT_TRUE(part) << layer;
        EXPECT_EQ(whole->GetLayerByName(layer)->GetFeatureCount(),
                  part->GetLayer(0)->GetFeatureCount());
    }
    const auto sample_poles = whole->GetLayerByName("poles")->GetFeatureCount();
    EXPECT_EQ(sample_poles, 1200);
}

TEST_F(SampleTest, any_size_has_exactly_that_many_poles) {
    for (const int count : {30, 99, 401, 1850, 5000}) {
        SCOPED_TRACE(count);
        const std::string file = path(std::to_string(count) + ".gpkg");
        ASSERT_EQ(make("--poles " + std::to_string(count) + " --out \"" + file + "\""), 0);
        const auto dataset = open(file);
        ASSERT_TRUE(dataset);
        EXPECT_EQ(dataset->GetLayerByName("poles")->GetFeatureCount(), count);
        EXPECT_GT(dataset->GetLayerByName("spans")->GetFeatureCount(), 0);
    }
}

TEST_F(SampleTest, flatgeobuf_keeps_the_pole_without_a_place_in_a_table) {
    ASSERT_EQ(make("--poles 1200 --seed 23 --format flatgeobuf --out \"" + path("f") + "\""), 0);
    const auto poles = open(path("f/poles.fgb"));
    const auto lost = open(path("f/poles_nogeom.csv"));
    ASSERT_TRUE(poles && lost);
    EXPECT_EQ(poles->GetLayer(0)->GetFeatureCount() + lost->GetLayer(0)->GetFeatureCount(), 1200);
}

TEST_F(SampleTest, inspections_over_an_existing_network) {
    ASSERT_EQ(make("--over \"" + sample_file("sample.gpkg") +
                   "\" --over-from from_pole --over-to to_pole "
                   "--out \"" +
                   path("over.gpkg") + "\""),
              0);
    const auto before = open(sample_file("sample.gpkg"));
    const auto after = open(path("over.gpkg"));
    ASSERT_TRUE(before && after);
    for (const char* layer : {"poles", "spans"}) {
        EXPECT_EQ(before->GetLayerByName(layer)->GetFeatureCount(),
                  after->GetLayerByName(layer)->GetFeatureCount());
    }
    EXPECT_GT(after->GetLayerByName("inspections")->GetFeatureCount(), 1000);
    EXPECT_GT(after->GetLayerByName("defects")->GetFeatureCount(), 100);
    EXPECT_TRUE(before->GetLayerByName("poles")->GetSpatialRef()->IsSame(
        after->GetLayerByName("poles")->GetSpatialRef()));
}

TEST_F(SampleTest, refuses_to_replace_and_wrong_calls) {
    const std::string file = path("s.gpkg");
    ASSERT_EQ(make("--poles 30 --out \"" + file + "\""), 0);
    EXPECT_EQ(make("--poles 30 --out \"" + file + "\""), 1);
    EXPECT_EQ(make("--poles 30 --overwrite --out \"" + file + "\""), 0);
    EXPECT_EQ(make("--poles 3 --out \"" + path("t.gpkg") + "\""), 2);
    EXPECT_EQ(make("--poles 30"), 2);
    EXPECT_FALSE(fs::exists(path("t.gpkg")));
}

}  // namespace
}  // namespace linewood
