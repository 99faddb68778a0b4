#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;

TEST(StylesCommand, ListsAndWritesEveryForm) {
    const ProgramRun list = linewood({"styles"});
    EXPECT_EQ(list.exit_code, 0);
    EXPECT_THAT(list.out, HasSubstr("poles_by_verdict  (layer poles, its default)"));
    EXPECT_THAT(linewood({"styles", "rates_by_area", "--format", "sld"}).out,
                HasSubstr("<StyledLayerDescriptor version=\"1.0.0\""));
    EXPECT_THAT(linewood({"styles", "rates_by_area", "--format", "se"}).out,
                HasSubstr("<se:Rule>"));
    EXPECT_THAT(linewood({"styles", "poles_by_verdict", "--format", "mapserver"}).out,
                HasSubstr("<WellKnownName>linewood_x</WellKnownName>"));
    EXPECT_THAT(linewood({"styles", "rates_by_area", "--format", "qml"}).out, HasSubstr("<qgis"));
    EXPECT_THAT(linewood({"styles", "--format", "legend"}).out, HasSubstr("<svg"));
    EXPECT_THAT(linewood({"styles", "--format", "css"}).out,
                HasSubstr("--lw-poles-by-verdict-replace"));
}

/// Where this fails and the new drawing is meant: `linewood styles --format legend > styles/legend-figure.svg`.
TEST(StylesCommand, DrawsTheLegendOfTheReadme) {
    EXPECT_EQ(content_of(test_file("../styles/legend-figure.svg")),
              linewood({"styles", "--format", "legend"}).out)
        << "styles/legend-figure.svg is not what the tool draws today";
}

TEST(StylesCommand, CalledWronglySaysWhatToType) {
    const ProgramRun unknown = linewood({"styles", "poles_by_verdcit", "--format", "sld"});
    EXPECT_EQ(unknown.exit_code, 2);
    EXPECT_THAT(unknown.out, IsEmpty());
    EXPECT_THAT(unknown.err, HasSubstr("did you mean \"poles_by_verdict\""));
    EXPECT_EQ(linewood({"styles", "--format", "sld"}).exit_code, 2);
    EXPECT_EQ(linewood({"styles", "rates_by_area", "--format", "css"}).exit_code, 2);
}

}  // namespace
}  // namespace linewood::testing
