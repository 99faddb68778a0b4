#include "src/job/checksum.hpp"

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
        unsigned char digest[EVP_MAX_MD_SIZE];
        unsigned int size = 0;
        EVP_DigestFinal_ex(context_.get(), digest, &size);
        static constexpr char kDigits[] = "0123456789abcdef";
        std::string text;
        for (unsigned int i = 0; i < size; ++i) {
            text += kDigits[digest[i] >> 4U];
            text += kDigits[digest[i] & 15U];
        }
        return text;
    }

private:
    std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> context_;
};

}  // namespace

std::string sha256_of(std::string_view bytes) {
    Sha256 hash;
    hash.add(bytes.data(), bytes.size());
    return hash.hex();
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
