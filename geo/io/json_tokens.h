#pragma once

// Private to geo/io: the tokens of a JSON text, one after another, with their lines.

#include <cstdint>
#include <istream>
#include <string>
#include <string_view>
#include <vector>

namespace linewood {

enum class JsonToken : std::uint8_t {
    open_object,
    close_object,
    open_array,
    close_array,
    comma,
    colon,
    text,  ///< with its quotation marks off
    bare,  ///< a number, true, null or what else stands there without quotation marks
    end
};

/// Reads on where a strict parser would stop, as GDAL's does. Holds one piece of the text.
class JsonTokens {
public:
    /// The longest text or word that is kept, and of a record; of longer ones the beginning.
    static constexpr std::size_t kKept = 100;

    /// @param in must stay. @param line the number of its first line.
    explicit JsonTokens(std::istream& in, std::int64_t line = 1);
    explicit JsonTokens(std::string_view text, std::int64_t line = 1);

    JsonToken next();
    /// Of the last token, where it was a text or bare. Escapes stay as they are.
    const std::string& word() const { return word_; }
    /// From now on so many bytes of each are kept.
    void keep(std::size_t most) { kept_ = most; }
    /// Had the last text a byte 0, bare or as an escape?
    bool has_nul() const { return nul_; }
    /// Where the last token began.
    std::int64_t line() const { return token_line_; }

    /// The last token and what follows, without spaces between, up to `kKept` bytes.
    void start_record();
    const std::string& record() const { return record_; }

private:
    int peek();
    void step();
    JsonToken read(int c);
    void read_text(int quote);
    void read_bare();
    void take_record(JsonToken token);

    std::istream* in_ = nullptr;
    std::vector<char> buffer_;
    std::string_view piece_;
    std::size_t at_ = 0;
    std::int64_t line_;
    std::int64_t token_line_;
    JsonToken last_ = JsonToken::end;
    std::size_t kept_ = kKept;
    bool nul_ = false;
    std::string word_;
    std::string record_;
    bool recording_ = false;
};

}  // namespace linewood
