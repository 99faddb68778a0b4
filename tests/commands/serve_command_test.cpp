#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <memory>
#include <random>
#include <thread>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/places/places.hpp"
#include "tests/support/http_client.hpp"
#include "tests/support/program.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood::testing {
namespace {

// The address sanitizer keeps what was freed for a while: how much memory is held says nothing there.
#if defined(__has_feature)
#if __has_feature(address_sanitizer)
constexpr bool kMemoryTells = false;
#else
constexpr bool kMemoryTells = true;
#endif
#elif defined(__SANITIZE_ADDRESS__)
constexpr bool kMemoryTells = false;
#else
constexpr bool kMemoryTells = true;
#endif

using namespace std::chrono_literals;
using ::testing::HasSubstr;
using ::testing::StartsWith;

/// `linewood serve` of a small site, waited for until it has printed its address.
class ServingProgram {
public:
    explicit ServingProgram(const std::vector<std::string>& more = {}) {
        folder_.file("site/index.html", "<h1>front</h1>");
        folder_.file("site/poles.gpkg", std::string(2U << 20U, 'x'));
        std::vector<std::string> arguments{"serve", (folder_ / "site").string(), "--port", "0"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        program_ = std::make_unique<RunningProgram>(linewood_program(), arguments);
        while (!program_->ended() && program_->printed().find('\n') == std::string::npos) {
            std::this_thread::sleep_for(1ms);
        }
    }
    std::string url() const { return program_->printed(); }
    int port() const { return std::stoi(url().c_str() + url().rfind(':') + 1); }
    RunningProgram& program() { return *program_; }
    /// Resident memory, KiB.
    long memory() const {
        std::ifstream status{"/proc/" + std::to_string(program_->pid()) + "/status"};
        for (std::string line; std::getline(status, line);) {
            if (line.starts_with("VmRSS:")) {
                return std::stol(line.c_str() + 6);
            }
        }
        return -1;
    }

private:
    TempDir folder_;
    std::unique_ptr<RunningProgram> program_;
};

void expect_memory_below(const ServingProgram& serving, long kib) {
    if (kMemoryTells) {
        EXPECT_LT(serving.memory(), kib) << "KiB";
    }
}

TEST(ServeCommand, PrintsItsAddressAndEndsWithNought) {
    for (const int signal : {SIGTERM, SIGINT, SIGHUP}) {
        ServingProgram serving;
        EXPECT_THAT(serving.url(), StartsWith("http://127.0.0.1:"));
        EXPECT_EQ(http_get(serving.port(), "/").body, "<h1>front</h1>");
        serving.program().send(signal);
        const ProgramRun run = serving.program().wait();
        EXPECT_EQ(run.exit_code, 0) << run.err;
        EXPECT_EQ(run.signal, 0);
    }
}

TEST(ServeCommand, StopsWhileClientsHoldOn) {
    ServingProgram serving;
    const RawClient waiting{serving.port()};
    waiting.send("GET / HT");
    const RawClient reading{serving.port()};
    reading.send("GET /poles.gpkg HTTP/1.1\r\nHost: localhost\r\n\r\n");
    std::this_thread::sleep_for(50ms);
    const auto begun = std::chrono::steady_clock::now();
    serving.program().send(SIGTERM);
    EXPECT_EQ(serving.program().wait().exit_code, 0);
    EXPECT_LT(std::chrono::steady_clock::now() - begun, 3s);
}

TEST(ServeCommand, WarnsOfAnAddressThatOthersCanReach) {
    ServingProgram serving{{"--address", "0.0.0.0"}};
    EXPECT_EQ(http_get(serving.port(), "/").status, 200);
    serving.program().send(SIGTERM);
    EXPECT_THAT(serving.program().wait().err, HasSubstr("others on the network can read"));
}

TEST(ServeCommand, SaysWhatIsWrong) {
    const TempDir folder;
    EXPECT_EQ(run_program_file(linewood_program(), {"serve"}).exit_code, 2);
    EXPECT_EQ(
        run_program_file(linewood_program(), {"serve", folder.path().string(), "--port", "70000"})
            .exit_code,
        2);
    const ProgramRun none =
        run_program_file(linewood_program(), {"serve", (folder / "nothing").string()});
    EXPECT_EQ(none.exit_code, 1);
    EXPECT_THAT(none.err, HasSubstr("is no folder that can be read"));
    ServingProgram serving;
    const ProgramRun taken = run_program_file(
        linewood_program(),
        {"serve", folder.path().string(), "--port", std::to_string(serving.port())});
    EXPECT_EQ(taken.exit_code, 1);
    EXPECT_THAT(taken.err, HasSubstr("--port 0"));
}

/// Something that is hardly ever a request.
std::string malformed(std::mt19937& random) {
    const std::vector<std::string> good{"GET",
                                        " ",
                                        "/",
                                        "index.html",
                                        "HTTP/1.1",
                                        "\r\n",
                                        "Host: ",
                                        "localhost",
                                        "\r\n\r\n",
                                        "Range: bytes=",
                                        "0-1,",
                                        "Content-Length: -1",
                                        "%2e%2e/",
                                        "HEAD",
                                        "Expect: 100-continue",
                                        "Transfer-Encoding: chunked",
                                        "99999999999999999999"};
    std::string out;
    switch (random() % 4) {
        case 0:
            for (auto n = random() % 300; n > 0; --n) {
                out.push_back(static_cast<char>(random() % 256));
            }
            return out;
        case 1:
            for (auto n = random() % 30; n > 0; --n) {
                out += good[random() % good.size()];
            }
            return out;
        case 2:
            out = "GET /index.html HTTP/1.1\r\nHost: localhost\r\nRange: bytes=0-4\r\n\r\n";
            for (auto n = 1 + random() % 4; n > 0; --n) {
                out[random() % out.size()] = static_cast<char>(random() % 256);
            }
            return out;
        default:
            out = "GET /poles.gpkg HTTP/1.1\r\nHost: localhost\r\n" +
                  std::string(random() % 20000, 'A') + "\r\n\r\n";
            return out.substr(0, random() % out.size());
    }
}

TEST(ServeCommand, TenThousandMalformedRequestsNeitherStopNorGrowIt) {
    ServingProgram serving;
    std::mt19937 random{3};
    long after_some = 0;
    for (int i = 0; i < 10000; ++i) {
        {
            const RawClient client{serving.port()};
            client.send(malformed(random));
            if (i % 50 == 0) {
                client.send("\r\n\r\n");
                client.receive(2s);
            }
        }
        if (i == 2000) {
            after_some = serving.memory();
        }
        if (i % 1000 == 999) {
            ASSERT_FALSE(serving.program().ended());
            EXPECT_EQ(http_get(serving.port(), "/").body, "<h1>front</h1>");
        }
    }
    EXPECT_GT(after_some, 0);
    expect_memory_below(serving, after_some + 4096);
    expect_memory_below(serving, 100L * 1024);
}

TEST(ServeCommand, HundredsOfSlowClientsNeitherStopNorGrowIt) {
    ServingProgram serving;
    const long before = serving.memory();
    std::vector<RawClient> clients;
    for (int i = 0; i < 300; ++i) {
        clients.emplace_back(serving.port());
        clients.back().send(i % 3 == 0 ? "GET /poles.gpkg HTTP/1.1\r\nHost: localhost\r\n\r\n"
                                       : "GET / HTTP/1.1\r\n");
    }
    for (int i = 0; i < 50; ++i) {
        for (const RawClient& client : clients) {
            client.send("A");
        }
        const auto begun = std::chrono::steady_clock::now();
        EXPECT_EQ(http_get(serving.port(), "/").status, 200);
        EXPECT_LT(std::chrono::steady_clock::now() - begun, 2s);
    }
    expect_memory_below(serving, before + 32L * 1024);
}

TEST(ServeCommand, AnEndlessHeadIsCutOff) {
    ServingProgram serving;
    const long before = serving.memory();
    const RawClient client{serving.port()};
    const std::string block(1U << 20U, 'a');
    for (int i = 0; i < 100 && client.send(block); ++i) {
    }
    EXPECT_TRUE(client.closed_within(3s));
    expect_memory_below(serving, before + 8L * 1024);
}

}  // namespace
}  // namespace linewood::testing
