#include "src/serve/request_path.hpp"

#include <random>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace linewood {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<std::string> names_of(std::string_view target) {
    const auto path = read_request_path(target);
    EXPECT_TRUE(path) << target;
    return path ? path->names : std::vector<std::string>{};
}

TEST(RequestPath, GoesDownNameByName) {
    EXPECT_THAT(names_of("/"), IsEmpty());
    EXPECT_TRUE(read_request_path("/")->folder);
    EXPECT_THAT(names_of("/tiles/12/655/1583.pbf"), ElementsAre("tiles", "12", "655", "1583.pbf"));
    EXPECT_FALSE(read_request_path("/a")->folder);
    EXPECT_TRUE(read_request_path("/a/")->folder);
    EXPECT_THAT(names_of("/index.html?search=%zz&x=../.."), ElementsAre("index.html"));
}

TEST(RequestPath, IsDecodedOnce) {
    EXPECT_THAT(names_of("/a%20b%2Cc"), ElementsAre("a b,c"));
    EXPECT_THAT(names_of("/%E6%9C%A8.svg"), ElementsAre("\xE6\x9C\xA8.svg"));
    // The name of a file, dots and all: nothing takes the percent signs away a second time.
    EXPECT_THAT(names_of("/%252e%252e/x"), ElementsAre("%2e%2e", "x"));
    EXPECT_THAT(names_of("/a%2Fb"), ElementsAre("a", "b"));
}

TEST(RequestPath, NothingThatLeadsElsewhereOrIsHidden) {
    for (const std::string_view target : {"",
                                          "a",
                                          "*",
                                          "http://localhost/a",
                                          "//a",
                                          "/a//b",
                                          "/a//",
                                          "/.",
                                          "/..",
                                          "/../secret",
                                          "/a/../../secret",
                                          "/a/..",
                                          "/./a",
                                          "/.git/config",
                                          "/a/.hidden",
                                          "/...",
                                          "/%2e%2e/secret",
                                          "/%2E%2E%2Fsecret",
                                          "/..%2fsecret",
                                          "/%2e/a",
                                          "/.%2e/secret",
                                          "/..\\secret",
                                          "/..%5csecret",
                                          "/a%5Cb",
                                          "/a%00.html",
                                          "/%00",
                                          "/a%0d%0aX: y",
                                          "/a%7f",
                                          "/a#b",
                                          "/a%",
                                          "/a%2",
                                          "/a%g0",
                                          "/%c0%ae%c0%ae/secret",   // overlong .
                                          "/%e0%80%ae%e0%80%ae/x",  // overlong, three bytes
                                          "/%f0%80%80%ae/x",        // overlong, four bytes
                                          "/%c0%af",                // overlong /
                                          "/%ff",
                                          "/%ed%a0%80",  // a surrogate
                                          "/%2F%2Fetc/passwd"}) {
        EXPECT_FALSE(read_request_path(target)) << target;
    }
    EXPECT_FALSE(read_request_path(std::string_view{"/a\0b", 4}));
    EXPECT_FALSE(read_request_path("/" + std::string(256, 'a')));
    EXPECT_TRUE(read_request_path("/" + std::string(255, 'a')));
    std::string deep;
    for (int i = 0; i < 33; ++i) {
        deep += "/a";
    }
    EXPECT_FALSE(read_request_path(deep));
}

TEST(RequestPath, ItsUrlIsReadAsTheSamePath) {
    for (const std::string_view target :
         {"/", "/a%20b/", "/%E6%9C%A8/100%25.svg", "/a-b_c.d~e", "/%22%3Cscript%3E"}) {
        const auto path = read_request_path(target);
        ASSERT_TRUE(path);
        const std::string url = path->names.empty() ? "/" : path->url();
        EXPECT_EQ(url, target);
    }
}

TEST(RequestPath, WhateverComesNoNameLeadsUp) {
    std::mt19937 random{11};
    const std::vector<std::string> pieces{
        "/", "..", ".", "%2e", "%2f", "%5c", "\\", "a", "%00", "%c0%ae", "%", "25", "?", "\xFF"};
    for (int i = 0; i < 50000; ++i) {
        std::string target{"/"};
        for (auto n = random() % 8; n > 0; --n) {
            target += pieces[random() % pieces.size()];
        }
        if (const auto path = read_request_path(target)) {
            for (const std::string& name : path->names) {
                ASSERT_FALSE(name.empty() || name.front() == '.') << target;
                ASSERT_EQ(name.find_first_of(std::string_view{"/\\\0", 3}), std::string::npos)
                    << target;
            }
        }
    }
}

}  // namespace
}  // namespace linewood
