#include "src/report/finding_pages.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/places/places.hpp"

namespace linewood {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::StartsWith;

std::string text_of(const std::filesystem::path& file) {
    std::ifstream in{file};
    return {std::istreambuf_iterator<char>{in}, {}};
}

/// Of the whole program: the folder that holds tests/.
std::filesystem::path source_folder() {
    return std::filesystem::path{testing::test_file("run")}.parent_path().parent_path();
}

/// The codes of all kinds of finding that the source defines, wherever it does.
std::set<std::string> codes_defined() {
    const std::regex kind{R"re(\b(?:Network)?Finding(?:Kind|Code)\s+k\w+\s*\{\s*"(\w+)")re"};
    std::set<std::string> codes;
    for (const char* const room : {"assess", "geo", "src"}) {
        const auto folder = source_folder() / room;
        for (const auto& entry : std::filesystem::recursive_directory_iterator{folder}) {
            const std::string text = entry.is_regular_file() ? text_of(entry.path()) : "";
            for (std::sregex_iterator it{text.begin(), text.end(), kind}, end; it != end; ++it) {
                codes.insert((*it)[1]);
            }
        }
    }
    return codes;
}

TEST(FindingPages, EveryCodeThatTheSourceDefinesHasOne) {
    std::set<std::string> with_page;
    for (const FindingPage& page : finding_pages()) {
        EXPECT_TRUE(with_page.emplace(page.code).second) << page.code << " has two pages";
        EXPECT_FALSE(page.meaning.empty()) << page.code;
        EXPECT_FALSE(page.why.empty()) << page.code;
        EXPECT_FALSE(page.mend.empty()) << page.code;
    }
    const std::set<std::string> defined = codes_defined();
    EXPECT_THAT(defined, Contains("pole_unknown"));
    EXPECT_EQ(with_page, defined);
}

/// A finding takes its code from a kind: a text in its place would have no page.
TEST(FindingPages, NoFindingIsMadeWithACodeOfItsOwn) {
    const std::regex literal{R"re(\b(?:f|finding|found|doubt)\.code\s*=\s*")re"};
    for (const char* const room : {"assess", "geo", "src"}) {
        const auto folder = source_folder() / room;
        for (const auto& entry : std::filesystem::recursive_directory_iterator{folder}) {
            if (entry.path().extension() == ".cpp" || entry.path().extension() == ".hpp") {
                EXPECT_FALSE(std::regex_search(text_of(entry.path()), literal)) << entry.path();
            }
        }
    }
}

TEST(FindingPages, ErrorsComeFirst) {
    const auto pages = finding_pages();
    EXPECT_EQ(pages.front().severity, Severity::error);
    EXPECT_EQ(pages.back().severity, Severity::note);
    EXPECT_THAT(finding_list_text(pages), StartsWith("error    defect_kind_unknown "));
}

TEST(FindingPages, ReadAsTextMarkdownAndJson) {
    const auto pages = finding_pages();
    const FindingPage* page = find_page(pages, "pole_unknown");
    ASSERT_NE(page, nullptr);
    EXPECT_EQ(find_page(pages, "no_such_code"), nullptr);
    const std::string text = finding_page_text(*page);
    EXPECT_THAT(text, StartsWith("pole_unknown (error)\n\nWhat it means\n  Names no pole"));
    EXPECT_THAT(text, HasSubstr("\n\nWhy it matters\n  "));
    EXPECT_THAT(text, HasSubstr("\n\nHow to mend it\n  "));
    EXPECT_THAT(finding_pages_markdown({*page}), StartsWith("## `pole_unknown` (error)\n\n"));
    const auto json = nlohmann::json::parse(finding_pages_json(pages));
    EXPECT_EQ(json.size(), pages.size());
    EXPECT_EQ(json[0]["code"], "defect_kind_unknown");
    EXPECT_EQ(json[0]["severity"], "error");
}

}  // namespace
}  // namespace linewood
