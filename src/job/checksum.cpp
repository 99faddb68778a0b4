#include "src/job/checksum.hpp"

#include <array>
#include <fstream>
#include <memory>
#include <vector>

#include <openssl/evp.h>

#include "geo/io/data_error.hpp"

namespace linewood {
namespace {

class Sha256 {
public:
    Sha256() : context_{EVP_MD_CTX_new(), EVP_MD_CTX_free} {
        EVP_DigestInit_ex(context_.get(), EVP_sha256(), nullptr);
    }
    void add(const char* bytes, std::size_t count) {
        EVP_DigestUpdate(context_.get(), bytes, count);
    }
    std::string hex() {
        static constexpr char kDigits[] = "0123456789abcdef";
        std::string text;
        for (const unsigned char byte : digest()) {
            text += kDigits[byte >> 4U];
            text += kDigits[byte & 15U];
        }
        return text;
    }
    std::string base64() {
        const Digest bytes = digest();
        std::array<unsigned char, (kBytes + 2) / 3 * 4 + 1> text{};
        EVP_EncodeBlock(text.data(), bytes.data(), static_cast<int>(bytes.size()));
        return {text.begin(), text.end() - 1};
    }

private:
    static constexpr std::size_t kBytes = 32;
    using Digest = std::array<unsigned char, kBytes>;

    Digest digest() {
        Digest bytes{};
        EVP_DigestFinal_ex(context_.get(), bytes.data(), nullptr);
        return bytes;
    }

    std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> context_;
};

}  // namespace

std::string sha256_of(std::string_view bytes) {
    Sha256 hash;
    hash.add(bytes.data(), bytes.size());
    return hash.hex();
}

std::string sha256_base64_of(std::string_view bytes) {
    Sha256 hash;
    hash.add(bytes.data(), bytes.size());
    return hash.base64();
}

std::string sha256_of_file(const std::filesystem::path& path) {
    std::ifstream in{path, std::ios::binary};
    if (!in) {
        throw DataError{path.string(), "", "cannot be read for its checksum"};
    }
    Sha256 hash;
    std::vector<char> block(std::size_t{1} << 18U);
    while (in.read(block.data(), static_cast<std::streamsize>(block.size())) || in.gcount() > 0) {
        hash.add(block.data(), static_cast<std::size_t>(in.gcount()));
    }
    if (in.bad()) {
        throw DataError{path.string(), "", "cannot be read to its end for its checksum"};
    }
    return hash.hex();
}

}  // namespace linewood
