// Ids with a byte 0 or bytes that are no UTF-8: libraries end a text at a byte 0, and what is left may be another pole's.

#include <fstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/src/pipeline/assess_survey.hpp"
#include "tests/support/program.hpp"

namespace linewood::testing {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

namespace fs = std::filesystem;

constexpr const char* kId = "POLE-1QZ";  // as written before its bytes are changed

/// One sound pole POLE-1, and a pocket that would fail it, recorded for kId.
Survey one_pole() {
    Survey s;
    s.add_pole("POLE-1", 0, 0);
    s.add_pole("POLE-2", 0, 40);
    s.add_span({{0, 0}, {0, 40}}, {{"from_pole", "POLE-1"}, {"to_pole", "POLE-2"}});
    s.add_visit("POLE-1",
                "2024-05-01",
                {{"original_circumference", 40.0},
                 {"present_circumference", 40.0},
                 {"method", "excavated"}});
    s.add_defect(kId, "external_pocket", {{"width", 9.0}, {"depth", 5.0}, {"height", 0.0}});
    s.defects.geometry = "POINT";
    s.defects.crs = Survey::kUtm10;
    s.defects.rows[0]["@wkt"] = "POINT (500000 5000000)";
    return s;
}

void replace_in(const fs::path& file, const std::string& from, const std::string& to) {
    std::string bytes = content_of(file);
    const std::size_t at = bytes.rfind(from);
    ASSERT_NE(at, std::string::npos) << file;
    bytes.replace(at, from.size(), to);
    std::ofstream{file, std::ios::binary} << bytes;
}

/// The survey in a format, kId in `table` turned into `id`.
struct ChangedId {
    ChangedId(const std::string& ending, const Survey& survey, std::string table, std::string id) {
        if (ending == "gpkg") {
            in = folder / "in.gpkg";
            write_survey(in, survey);
            const ProgramRun changed = run_program_file(
                "/usr/bin/env",
                {"python3",
                 "-c",
                 "import sqlite3,sys\n"
                 "c=sqlite3.connect(sys.argv[1])\n"
                 "for (n,) in list(c.execute(\"SELECT name FROM sqlite_master WHERE "
                 "type='trigger'\")):\n"
                 "  c.execute('DROP TRIGGER \"%s\"' % n)\n"
                 "t=sys.argv[2]\n"
                 "for col in ('to_pole',) if t=='spans' else ('pole_id',):\n"
                 "  c.execute('UPDATE %s SET %s=CAST(? AS TEXT) WHERE %s=?' % (t,col,col),\n"
                 "            (bytes.fromhex(sys.argv[3]), sys.argv[4]))\n"
                 "c.commit()\n",
                 in.string(),
                 table,
                 hex(id),
                 kId});
            EXPECT_EQ(changed.exit_code, 0) << changed.err;
            return;
        }
        in = folder / "in";
        write_survey(in, survey, ending);
        if (ending == "geojson") {  // an escape, as JSON has it
            const std::size_t nul = id.find('\0');
            id = nul == std::string::npos ? id : id.replace(nul, 1, "\\u0000");
        }
        replace_in(in / (table + "." + (ending == "shp" ? "dbf" : ending)), kId, id);
    }

    static std::string hex(const std::string& bytes) {
        std::string out;
        for (const char c : bytes) {
            constexpr std::string_view kDigits{"0123456789ABCDEF"};
            const auto byte = static_cast<unsigned char>(c);
            out += kDigits[byte / 16];
            out += kDigits[byte % 16];
        }
        return out;
    }

    TempDir folder{fast_place()};
    fs::path in;
};

std::vector<std::string> values(const std::vector<Row>& findings) {
    std::vector<std::string> all;
    for (const Row& f : findings) {
        const std::string field = f.at("field").is_null() ? "" : f.at("field").get<std::string>();
        all.push_back(f.at("layer").get<std::string>() + "/" + field + "=" +
                      (f.at("value").is_null() ? "" : f.at("value").get<std::string>()));
    }
    return all;
}

const std::string kCut{"POLE-1\0Z", 8};
const std::string kBad{"POLE-1\xFFZ", 8};
constexpr const char* kFormats[] = {"gpkg", "csv", "fgb", "shp", "geojson"};

TEST(CutIds, AByteZeroInADefectsIdIsSaidAndMatchesNoPole) {
    for (const char* const ending : kFormats) {
        SCOPED_TRACE(ending);
        const ChangedId c{ending, one_pole(), "defects", kCut};
        const AssessedSurvey a{c.in};
        EXPECT_EQ(a.verdict("POLE-1"),
                  "serviceable");  // not by the pocket of nobody knows which pole
        EXPECT_THAT(values(a.doubts("nul_bytes")), ElementsAre("defects/pole_id=POLE-1\\x00Z"));
        EXPECT_THAT(values(a.doubts("pole_unknown")),
                    ElementsAre("defects/pole_id=POLE-1\xEF\xBF\xBDZ"));
        EXPECT_EQ(a.layer("defects").rows.at(0).at("pole_id"), "POLE-1\xEF\xBF\xBDZ");
    }
}

TEST(CutIds, BytesThatAreNoUtf8InADefectsIdAreSaid) {
    for (const char* const ending : {"gpkg", "csv", "fgb", "shp", "geojson"}) {
        SCOPED_TRACE(ending);
        const ChangedId c{ending, one_pole(), "defects", kBad};
        const AssessedSurvey a{c.in};
        EXPECT_EQ(a.verdict("POLE-1"), "serviceable");
        EXPECT_THAT(values(a.doubts("pole_unknown")),
                    ElementsAre(HasSubstr("defects/pole_id=POLE-1")));
        EXPECT_THAT(values(a.doubts("text_not_utf8")), ElementsAre("defects/pole_id=POLE-1\\xFFZ"));
    }
}

TEST(CutIds, AnInspectionsAndASpansIdsAreLookedAtToo) {
    for (const char* const ending : kFormats) {
        SCOPED_TRACE(ending);
        Survey s = one_pole();
        s.defects.rows.clear();
        s.defects.geometry.clear();
        s.defects.crs.clear();
        s.defects.types = {{"pole_id", "text"}, {"kind", "text"}};
        s.spans.rows.at(0)["to_pole"] = kId;
        const ChangedId of_span{ending, s, "spans", kCut};
        const AssessedSurvey a{of_span.in};
        EXPECT_THAT(values(a.doubts("nul_bytes")), ElementsAre("spans/to_pole=POLE-1\\x00Z"));
        EXPECT_THAT(values(a.findings().rows),
                    Contains(HasSubstr("spans/to_pole=POLE-1\xEF\xBF\xBDZ")));
        EXPECT_EQ(a.layer("spans").rows.at(0).at("from_pole"), "POLE-1");

        Survey v = one_pole();
        v.inspections.rows.at(0)["pole_id"] = kId;
        v.defects.rows.at(0)["pole_id"] = "POLE-2";
        v.inspections.geometry = "POINT";
        v.inspections.crs = Survey::kUtm10;
        v.inspections.rows[0]["@wkt"] = "POINT (500000 5000000)";
        const ChangedId of_visit{ending, v, "inspections", kCut};
        const AssessedSurvey b{of_visit.in};
        EXPECT_EQ(b.verdict("POLE-1"), "unassessed");
        EXPECT_THAT(values(b.doubts("nul_bytes")), ElementsAre("inspections/pole_id=POLE-1\\x00Z"));
        EXPECT_THAT(values(b.doubts("pole_unknown")),
                    ElementsAre("inspections/pole_id=POLE-1\xEF\xBF\xBDZ"));
    }
}

/// Some programs fill the rest of a dBASE cell with bytes 0: these are no part of the text.
TEST(CutIds, PaddingOfADbaseCellIsNoText) {
    Survey s = one_pole();
    const ChangedId c{"shp", s, "defects", std::string{"POLE-1\0\0", 8}};
    const AssessedSurvey a{c.in};
    EXPECT_EQ(a.verdict("POLE-1"), "stub");
    EXPECT_THAT(a.doubts("nul_bytes"), IsEmpty());
}

}  // namespace
}  // namespace linewood::testing
