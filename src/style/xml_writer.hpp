#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace linewood {

/// Writes an XML document, indented by two. Names are the program's own words; every value is escaped.
class XmlWriter {
public:
    using Attributes = std::initializer_list<std::pair<std::string_view, std::string_view>>;

    /// @param head what stands before the first element.
    explicit XmlWriter(std::string_view head) : out_{head} {}

    void open(std::string_view name, Attributes attributes = {});
    void close();
    /// An element with attributes only.
    void empty(std::string_view name, Attributes attributes);
    /// An element around a text.
    void leaf(std::string_view name, std::string_view text, Attributes attributes = {});

    /// Closes what is open and gives the document.
    std::string finish();

private:
    void begin(std::string_view name, Attributes attributes);

    std::string out_;
    std::vector<std::string> open_;
};

}  // namespace linewood
