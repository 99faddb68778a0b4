#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "src/serve/host_check.hpp"
#include "src/serve/request_head.hpp"
#include "src/serve/served_folder.hpp"

namespace linewood {

/// A stretch of a body: words, then bytes of the file.
struct AnswerPart {
    std::string words;
    std::uint64_t begin = 0;
    std::uint64_t length = 0;
};

/// What is said to a request.
struct HttpAnswer {
    int status = 200;
    std::vector<std::pair<std::string, std::string>> headers;
    std::string media_type;
    std::shared_ptr<const ServedFile> file;  ///< null: the body is words only
    std::vector<AnswerPart> parts;

    /// Of the body.
    std::uint64_t bytes() const;
    /// A piece of the body at `offset`, of at most `most` bytes; empty at its end, and where the file has lost bytes.
    std::string piece(std::uint64_t offset, std::size_t most) const;
};

/// Answers GET and HEAD (whose body is not to be sent) with files of the folder; anything else with what is
/// wrong. Knows nothing of sockets.
HttpAnswer answer_request(const RequestHead& request,
                          const ServedFolder& folder,
                          const HostCheck& host);

/// An answer of a few words, with the headers that every answer has.
HttpAnswer short_answer(int status, const std::string& words);

/// `Sun, 06 Nov 1994 08:49:37 GMT` (RFC 9110, 5.6.7).
std::string http_date(std::time_t time);

}  // namespace linewood
