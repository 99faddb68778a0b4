// File names from ids that may hold anything.

#include "src/job/file_names.hpp"

#include <algorithm>
#include <cctype>
#include <set>
#include <string>

#include <gtest/gtest.h>

namespace linewood {
namespace {

bool is_plain(const std::string& name) {
    return !name.empty() && name.front() != '.' && name.front() != '-' && name.size() <= 110 &&
           std::all_of(name.begin(), name.end(), [](char c) {
               return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                      c == '.' || c == '_' || c == '-';
           });
}

std::string lower(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) {
        return static_cast<char>(std::tolower(c));
    });
    return text;
}

TEST(FileNames, KeepAPlainId) {
    FileNames names;
    EXPECT_EQ(names.name_for("P-104"), "P-104");
    EXPECT_EQ(names.name_for("N_12.b"), "N_12.b");
}

TEST(FileNames, AreSafeAndApartWhateverTheId) {
    const std::string long_id(300, 'a');
    FileNames names;
    std::set<std::string> taken;
    for (const std::string& id : {std::string{"<script>alert(1)</script>"},
                                  std::string{"../../etc/passwd"},
                                  std::string{"a/b"},
                                  std::string{"a\\b"},
                                  std::string{"a b"},
                                  std::string{"a\"b'c"},
                                  std::string{""},
                                  std::string{"."},
                                  std::string{".."},
                                  std::string{"---"},
                                  std::string{"con"},
                                  std::string{"COM1.x"},
                                  std::string{"index"},
                                  std::string{"Index"},
                                  std::string{"a\0b", 3},
                                  std::string{"a\nb"},
                                  std::string{"M\u00e4rz"},
                                  std::string{"Ma\u0308rz"},
                                  std::string{"\u202egnp.exe"},
                                  std::string{"-rf"},
                                  long_id,
                                  long_id + "b",
                                  long_id.substr(0, 80),
                                  std::string{"same"},
                                  std::string{"SAME"},
                                  std::string{"Same"},
                                  std::string{"same"}}) {
        const std::string name = names.name_for(id);
        EXPECT_TRUE(is_plain(name)) << name;
        EXPECT_NE(lower(name.substr(0, name.find('.'))), "index");
        EXPECT_TRUE(taken.insert(lower(name)).second) << name;
    }
}

TEST(FileNames, AreTheSameEveryTime) {
    FileNames one;
    FileNames other;
    EXPECT_EQ(one.name_for("a/b"), other.name_for("a/b"));
    EXPECT_NE(FileNames{}.name_for("a/b"), FileNames{}.name_for("a b"));
}

}  // namespace
}  // namespace linewood
