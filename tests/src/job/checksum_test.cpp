#include "src/job/checksum.hpp"

#include <gtest/gtest.h>

#include "geo/io/data_error.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood::testing {
namespace {

// FIPS 180-4 examples, as given by NIST for SHA-256 (from memory; sha256sum of GNU coreutils gives the same).
constexpr const char* kOfNothing =
    "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
constexpr const char* kOfAbc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
constexpr const char* kOfAMillionA =
    "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0";

TEST(Checksum, OfKnownTexts) {
    EXPECT_EQ(sha256_of(""), kOfNothing);
    EXPECT_EQ(sha256_of("abc"), kOfAbc);
    EXPECT_EQ(sha256_of(std::string(1000000, 'a')), kOfAMillionA);
}

TEST(Checksum, OfFilesReadInBlocks) {
    const TempDir folder;
    EXPECT_EQ(sha256_of_file(folder.file("empty", "")), kOfNothing);
    EXPECT_EQ(sha256_of_file(folder.file("abc", "abc")), kOfAbc);
    EXPECT_EQ(sha256_of_file(folder.file("long", std::string(1000000, 'a'))), kOfAMillionA);
    const std::string block(std::size_t{1} << 18U, '\0');
    EXPECT_EQ(sha256_of_file(folder.file("one block", block)), sha256_of(block));
}

TEST(Checksum, OfAFileThatIsNotThereIsAnError) {
    const TempDir folder;
    EXPECT_THROW(sha256_of_file(folder / "none"), DataError);
}

}  // namespace
}  // namespace linewood::testing
