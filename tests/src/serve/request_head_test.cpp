#include "src/serve/request_head.hpp"

#include <gtest/gtest.h>

#include "src/serve/host_check.hpp"
#include "src/serve/media_type.hpp"

namespace linewood {
namespace {

TEST(RequestHead, HoldsWhatFilesNeed) {
    const auto head = read_request_head(
        "GET /a?b HTTP/1.1\r\nhOST: \t localhost:80 \r\nRange: bytes=0-1\r\nIf-None-Match: "
        "\"x\"\r\n"
        "Cookie: a\r\nCookie: b\r\nIf-Range: \"y\"\r\nIf-Modified-Since: z\r\n\r\nrest");
    ASSERT_TRUE(head);
    EXPECT_EQ(head->method, "GET");
    EXPECT_EQ(head->target, "/a?b");
    EXPECT_EQ(head->host, "localhost:80");
    EXPECT_EQ(head->range, "bytes=0-1");
    EXPECT_EQ(head->if_none_match, "\"x\"");
    EXPECT_EQ(head->if_range, "\"y\"");
    EXPECT_EQ(head->if_modified_since, "z");
    EXPECT_TRUE(read_request_head("HEAD / HTTP/1.0\n\n"));
}

TEST(RequestHead, RefusesWhatIsNone) {
    for (const std::string_view bytes : {"",
                                         "\r\n\r\n",
                                         "GET\r\n\r\n",
                                         "GET /\r\n\r\n",
                                         "GET / HTTP/2.0\r\n\r\n",
                                         "GET / http/1.1\r\n\r\n",
                                         "GET  / HTTP/1.1\r\n\r\n",
                                         "GET / HTTP/1.1 \r\n\r\n",
                                         " GET / HTTP/1.1\r\n\r\n",
                                         "G(T / HTTP/1.1\r\n\r\n",
                                         "GET / HTTP/1.1\r\nHost\r\n\r\n",
                                         "GET / HTTP/1.1\r\n: x\r\n\r\n",
                                         "GET / HTTP/1.1\r\nHost : x\r\n\r\n",
                                         "GET / HTTP/1.1\r\nA: b\r\n folded\r\n\r\n",
                                         "GET / HTTP/1.1\r\nHost: a\r\nHost: a\r\n\r\n",
                                         "GET / HTTP/1.1\r\nHost: a\rb\r\n\r\n",
                                         "GET / HTTP/1.1\r\nHost: a\r\n"}) {
        EXPECT_FALSE(read_request_head(bytes)) << bytes;
    }
    EXPECT_FALSE(read_request_head(std::string_view{"GET /\0 HTTP/1.1\r\n\r\n", 20}));
    std::string long_head = "GET / HTTP/1.1\r\n";
    for (std::size_t i = 0; i < kMostHeadLines; ++i) {
        long_head += "A: b\r\n";
    }
    EXPECT_TRUE(read_request_head(long_head + "\r\n"));
    EXPECT_FALSE(read_request_head(long_head + "A: b\r\n\r\n"));
}

TEST(RequestHead, EndsAtTheEmptyLine) {
    EXPECT_EQ(end_of_head("GET / HTTP/1.1\r\n\r\nbody"), 18U);
    EXPECT_EQ(end_of_head("a\n\nb"), 3U);
    EXPECT_FALSE(end_of_head("a\r\n"));
    EXPECT_FALSE(end_of_head("a\r\n\r"));
    EXPECT_FALSE(end_of_head(""));
}

TEST(HostCheck, KnowsItsOwnNamesOnly) {
    const HostCheck host{{"192.168.1.5", "survey.example", "fe80::1"}};
    for (const char* const good : {"localhost",
                                   "LocalHost:8080",
                                   "127.0.0.1",
                                   "127.0.0.1:1",
                                   "[::1]",
                                   "[::1]:8080",
                                   "192.168.1.5:80",
                                   "survey.example",
                                   "[fe80::1]:9"}) {
        EXPECT_TRUE(host.allows(good)) << good;
    }
    for (const char* const bad : {"",
                                  ":80",
                                  "elsewhere.example",
                                  "localhost.elsewhere.example",
                                  "localhost:80:90",
                                  "localhost:a",
                                  "localhost@elsewhere.example",
                                  "elsewhere.example:80",
                                  "::1",
                                  "[::1",
                                  "[::1]x",
                                  "127.0.0.1.elsewhere.example",
                                  "localhost."}) {
        EXPECT_FALSE(host.allows(bad)) << bad;
    }
}

TEST(MediaType, OfWhatAPublishedFolderHas) {
    EXPECT_EQ(media_type_of("index.html"), "text/html; charset=utf-8");
    EXPECT_EQ(media_type_of("site.js"), "text/javascript; charset=utf-8");
    EXPECT_EQ(media_type_of("1583.pbf"), "application/vnd.mapbox-vector-tile");
    EXPECT_EQ(media_type_of("poles.GPKG"), "application/geopackage+sqlite3");
    EXPECT_EQ(media_type_of("poles.fgb"), "application/flatgeobuf");
    EXPECT_EQ(media_type_of("a.b.svg"), "image/svg+xml");
    EXPECT_EQ(media_type_of("LICENSE"), "application/octet-stream");
    EXPECT_EQ(media_type_of("x.html.exe"), "application/octet-stream");
    EXPECT_EQ(media_type_of("x."), "application/octet-stream");
}

}  // namespace
}  // namespace linewood
