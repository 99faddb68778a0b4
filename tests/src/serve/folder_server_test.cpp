#include "src/serve/folder_server.hpp"

#include <chrono>
#include <filesystem>
#include <functional>
#include <memory>
#include <thread>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/data_error.hpp"
#include "tests/support/http_client.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood::testing {
namespace {

using namespace std::chrono_literals;
using ::testing::HasSubstr;
using ::testing::Not;

/// A site with something beside it that is nobody's business.
class ServedSite {
public:
    explicit ServedSite(const std::function<void(ServeOptions&)>& change = {}) {
        folder_.file("secret.txt", "secret");
        folder_.file("site/index.html", "<h1>front</h1>");
        folder_.file("site/page/index.html", "inside");
        folder_.file("site/page/a b.svg", "<svg/>");
        folder_.file("site/numbers.csv", "0123456789");
        folder_.file("site/empty.js", "");
        folder_.file("site/.hidden", "secret");
        folder_.file("site/no-page/a.txt", "text");
        std::filesystem::create_symlink("../secret.txt", folder_ / "site/link.txt");
        std::filesystem::create_symlink("..", folder_ / "site/up");
        std::filesystem::create_symlink("index.html", folder_ / "site/same.html");
        ServeOptions options;
        options.folder = folder_ / "site";
        if (change) {
            change(options);
        }
        server_ = std::make_unique<FolderServer>(options);
        server_->start();
    }
    int port() const { return server_->port(); }
    FolderServer& server() { return *server_; }
    const TempDir& folder() const { return folder_; }

private:
    TempDir folder_;
    std::unique_ptr<FolderServer> server_;
};

TEST(FolderServer, GivesFilesWithTheirTypes) {
    const ServedSite site;
    const HttpResult front = http_get(site.port(), "/");
    EXPECT_EQ(front.status, 200);
    EXPECT_EQ(front.body, "<h1>front</h1>");
    EXPECT_EQ(front.header("Content-Type"), "text/html; charset=utf-8");
    EXPECT_EQ(front.header("Content-Length"), "14");
    EXPECT_EQ(front.header("X-Content-Type-Options"), "nosniff");
    EXPECT_EQ(front.header("Cross-Origin-Resource-Policy"), "same-origin");
    EXPECT_EQ(http_get(site.port(), "/index.html?x=1").body, front.body);
    const HttpResult drawing = http_get(site.port(), "/page/a%20b.svg");
    EXPECT_EQ(drawing.body, "<svg/>");
    EXPECT_EQ(drawing.header("Content-Type"), "image/svg+xml");
    const HttpResult empty = http_get(site.port(), "/empty.js");
    EXPECT_EQ(empty.status, 200);
    EXPECT_EQ(empty.header("Content-Length"), "0");
    EXPECT_EQ(empty.header("Content-Type"), "text/javascript; charset=utf-8");
}

TEST(FolderServer, HeadIsTheSameWithoutABody) {
    const ServedSite site;
    for (const char* const target : {"/", "/numbers.csv", "/page", "/nothing", "/empty.js"}) {
        const HttpResult get = http_get(site.port(), target);
        const HttpResult head = http_get(site.port(), target, "", "HEAD");
        EXPECT_EQ(head.status, get.status) << target;
        EXPECT_EQ(head.head, get.head) << target;
        EXPECT_EQ(head.body, "") << target;
    }
}

TEST(FolderServer, FoldersShowTheirPageOrNothing) {
    const ServedSite site;
    EXPECT_EQ(http_get(site.port(), "/page/").body, "inside");
    const HttpResult moved = http_get(site.port(), "/page");
    EXPECT_EQ(moved.status, 301);
    EXPECT_EQ(moved.header("Location"), "/page/");
    for (const char* const target : {"/no-page", "/no-page/", "/numbers.csv/"}) {
        const HttpResult none = http_get(site.port(), target);
        EXPECT_EQ(none.status, 404) << target;
        EXPECT_THAT(none.body, Not(HasSubstr("a.txt")));
    }
}

TEST(FolderServer, NothingOutsideTheFolderInAnyEncoding) {
    const ServedSite site;
    for (const std::string& up : std::vector<std::string>{"..",
                                                          "%2e%2e",
                                                          "%2E.",
                                                          ".%2e",
                                                          "%252e%252e",
                                                          "%25252e%25252e",
                                                          "..%00",
                                                          "%c0%ae%c0%ae",
                                                          "%e0%80%ae%e0%80%ae",
                                                          "%uff0e%uff0e",
                                                          "..;",
                                                          "...",
                                                          "%5c..",
                                                          "..%5c",
                                                          "\\..",
                                                          "up",
                                                          ".%00."}) {
        for (const std::string& slash :
             std::vector<std::string>{"/", "%2f", "%252f", "\\", "%5c", "%c0%af", "//", "/./"}) {
            for (const std::string& front :
                 std::vector<std::string>{"/", "/page/", "//", "", "/\\", "/page/../"}) {
                const HttpResult result = http_get(site.port(), front + up + slash + "secret.txt");
                EXPECT_TRUE(result.status == 404 || result.status == 400)
                    << front << up << slash << result.status;
                EXPECT_THAT(result.body, Not(HasSubstr("secret")));
            }
        }
    }
    const std::string absolute = (site.folder() / "secret.txt").string();
    for (const std::string& target : {absolute,
                                      "/" + absolute,
                                      "file://" + absolute,
                                      std::string{"/.hidden"},
                                      std::string{"/%2ehidden"},
                                      std::string{"/link.txt"},
                                      std::string{"/up/secret.txt"},
                                      std::string{"/same.html"},
                                      std::string{"http://localhost/../secret.txt"}}) {
        const HttpResult result = http_get(site.port(), target);
        EXPECT_EQ(result.status, 404) << target;
        EXPECT_THAT(result.body, Not(HasSubstr("secret")));
    }
}

TEST(FolderServer, GivesRanges) {
    const ServedSite site;
    const auto ranges = [&](const std::string& asked, const std::string& more = "") {
        return http_get(site.port(), "/numbers.csv", "Range: " + asked + "\r\n" + more);
    };
    const HttpResult one = ranges("bytes=2-4");
    EXPECT_EQ(one.status, 206);
    EXPECT_EQ(one.body, "234");
    EXPECT_EQ(one.header("Content-Range"), "bytes 2-4/10");
    EXPECT_EQ(one.header("Content-Length"), "3");
    EXPECT_EQ(ranges("bytes=8-").body, "89");
    EXPECT_EQ(ranges("bytes=-1").body, "9");
    const HttpResult beyond = ranges("bytes=10-");
    EXPECT_EQ(beyond.status, 416);
    EXPECT_EQ(beyond.header("Content-Range"), "bytes */10");
    const HttpResult several = ranges("bytes=0-1,9-9");
    EXPECT_EQ(several.status, 206);
    EXPECT_EQ(several.header("Content-Type"), "multipart/byteranges; boundary=linewood-part");
    EXPECT_EQ(several.header("Content-Length"), std::to_string(several.body.size()));
    EXPECT_EQ(several.body,
              "--linewood-part\r\nContent-Type: text/csv; charset=utf-8\r\nContent-Range: bytes "
              "0-1/10\r\n\r\n01\r\n--linewood-part\r\nContent-Type: text/csv; "
              "charset=utf-8\r\nContent-Range: bytes 9-9/10\r\n\r\n9\r\n--linewood-part--\r\n");
    for (const char* const odd : {"bytes=4-2", "pages=1-2", "bytes=x", "bytes=0-,0-,0-"}) {
        EXPECT_EQ(ranges(odd).status, 200) << odd;
        EXPECT_EQ(ranges(odd).body, "0123456789") << odd;
    }
    EXPECT_EQ(ranges("bytes=0-0", "If-Range: \"another\"\r\n").status, 200);
    EXPECT_EQ(ranges("bytes=0-0", "If-Range: " + one.header("ETag") + "\r\n").status, 206);
    EXPECT_EQ(ranges("bytes=0-0", "If-Range: " + one.header("Last-Modified") + "\r\n").status, 206);
}

TEST(FolderServer, SaysWhenNothingHasChanged) {
    const ServedSite site;
    const HttpResult first = http_get(site.port(), "/numbers.csv");
    const std::string tag = first.header("ETag");
    for (const std::string& asked : {"If-None-Match: " + tag,
                                     "If-None-Match: \"a\", W/" + tag,
                                     std::string{"If-None-Match: *"},
                                     "If-Modified-Since: " + first.header("Last-Modified")}) {
        const HttpResult again = http_get(site.port(), "/numbers.csv", asked + "\r\n");
        EXPECT_EQ(again.status, 304) << asked;
        EXPECT_EQ(again.body, "");
        EXPECT_EQ(again.header("ETag"), tag);
    }
    EXPECT_EQ(http_get(site.port(), "/numbers.csv", "If-None-Match: \"a\"\r\n").status, 200);
    site.folder().file("site/numbers.csv", "012345678");
    EXPECT_EQ(http_get(site.port(), "/numbers.csv", "If-None-Match: " + tag + "\r\n").status, 200);
}

TEST(FolderServer, AFolderPublishedAgainIsServed) {
    const ServedSite site;
    EXPECT_EQ(http_get(site.port(), "/numbers.csv").body, "0123456789");
    std::filesystem::rename(site.folder() / "site", site.folder() / "old");
    site.folder().file("site/numbers.csv", "new");
    std::filesystem::remove_all(site.folder() / "old");
    EXPECT_EQ(http_get(site.port(), "/numbers.csv").body, "new");
    EXPECT_EQ(http_get(site.port(), "/index.html").status, 404);
}

TEST(FolderServer, GetAndHeadOnly) {
    const ServedSite site;
    for (const char* const method :
         {"POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "PRI", "get", "X"}) {
        const HttpResult result =
            http_get(site.port(), "/numbers.csv", "Content-Length: 3\r\n", method);
        EXPECT_EQ(result.status, 405) << method;
        EXPECT_EQ(result.header("Allow"), "GET, HEAD");
    }
    EXPECT_EQ(http_send(site.port(),
                        "GET / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 60\r\n\r\n"
                        "GET /numbers.csv HTTP/1.1\r\nHost: localhost\r\n\r\n")
                  .body,
              "<h1>front</h1>")
        << "a body is no second request";
}

TEST(FolderServer, GoesByItsOwnNameOnly) {
    const ServedSite site{[](ServeOptions& o) { o.names = {"survey.example"}; }};
    const auto by = [&](const std::string& lines) {
        return http_send(site.port(), "GET / HTTP/1.1\r\n" + lines + "\r\n").status;
    };
    EXPECT_EQ(by("Host: localhost:" + std::to_string(site.port()) + "\r\n"), 200);
    EXPECT_EQ(by("Host: survey.example\r\n"), 200);
    EXPECT_EQ(by("Host: elsewhere.example\r\n"), 421);
    EXPECT_EQ(by(""), 421);
    EXPECT_EQ(by("Host: localhost\r\nHost: elsewhere.example\r\n"), 400);
}

TEST(FolderServer, EndsWaitingForSlowClients) {
    const ServedSite site{[](ServeOptions& o) { o.limits.head_time = 200ms; }};
    const RawClient silent{site.port()};
    const RawClient slow{site.port()};
    EXPECT_TRUE(slow.send("GET / HT"));
    EXPECT_THAT(slow.receive(3s), HasSubstr("HTTP/1.1 408 "));
    EXPECT_THAT(silent.receive(3s), HasSubstr("HTTP/1.1 408 "));
}

TEST(FolderServer, EndsWaitingForClientsThatDoNotRead) {
    const ServedSite site{[](ServeOptions& o) { o.limits.quiet_time = 200ms; }};
    site.folder().file("site/large.gpkg", std::string(64U << 20U, 'x'));
    const RawClient client{site.port()};
    client.send("GET /large.gpkg HTTP/1.1\r\nHost: localhost\r\n\r\n");
    std::this_thread::sleep_for(1500ms);
    EXPECT_LT(client.receive().size(), 64U << 20U);
}

TEST(FolderServer, SlowClientsStandInNobodysWay) {
    const ServedSite site{[](ServeOptions& o) { o.connections = 8; }};
    site.folder().file("site/large.gpkg", std::string(16U << 20U, 'x'));
    std::vector<RawClient> slow;
    for (int i = 0; i < 100; ++i) {
        slow.emplace_back(site.port());
        slow.back().send(i % 2 == 0 ? "GET / HTTP/1.1\r\nHost"
                                    : "GET /large.gpkg HTTP/1.1\r\nHost: localhost\r\n\r\n");
        if (i % 10 == 9) {
            const auto begun = std::chrono::steady_clock::now();
            EXPECT_EQ(http_get(site.port(), "/").status, 200) << i;
            EXPECT_LT(std::chrono::steady_clock::now() - begun, 3s);
        }
    }
}

TEST(FolderServer, RefusesHeadsThatAreTooLong) {
    const ServedSite site;
    EXPECT_EQ(http_send(site.port(), std::string(1U << 20U, 'a')).status, 431);
    EXPECT_EQ(http_get(site.port(), "/" + std::string(20000, 'a')).status, 431);
    EXPECT_EQ(http_get(site.port(), "/", "A: " + std::string(20000, 'a') + "\r\n").status, 431);
    std::string many;
    for (int i = 0; i < 200; ++i) {
        many += "A: b\r\n";
    }
    EXPECT_EQ(http_get(site.port(), "/", many).status, 400);
}

TEST(FolderServer, ReadsRequestsThatComeByteByByte) {
    const ServedSite site;
    const RawClient client{site.port()};
    for (const char c : std::string{"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n"}) {
        EXPECT_TRUE(client.send(std::string_view{&c, 1}));
        std::this_thread::sleep_for(1ms);
    }
    EXPECT_THAT(client.receive(), HasSubstr("<h1>front</h1>"));
}

TEST(FolderServer, StopsAtOnceWhateverIsGoingOn) {
    ServedSite site;
    std::vector<RawClient> clients;
    for (int i = 0; i < 20; ++i) {
        clients.emplace_back(site.port());
        clients.back().send("GET / HT");
    }
    const auto begun = std::chrono::steady_clock::now();
    site.server().stop();
    EXPECT_LT(std::chrono::steady_clock::now() - begun, 3s);
    EXPECT_THROW(RawClient{site.port()}, std::runtime_error);
    site.server().stop();
}

TEST(FolderServer, SaysWhyItCannotBegin) {
    const ServedSite site;
    ServeOptions options;
    options.folder = site.folder() / "site";
    options.port = site.port();
    EXPECT_THROW(FolderServer{options}, DataError) << "the port is taken";
    options.port = 0;
    options.address = "203.0.113.7";
    EXPECT_THROW(FolderServer{options}, DataError) << "not an address of this machine";
    options.address = "127.0.0.1";
    options.folder = site.folder() / "nothing";
    EXPECT_THROW(FolderServer{options}, DataError);
    options.folder = site.folder() / "secret.txt";
    EXPECT_THROW(FolderServer{options}, DataError);
}

}  // namespace
}  // namespace linewood::testing
