#pragma once

#include <cctype>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linewood::test {

/// One element of a document, in the order in which they begin.
struct XmlElement {
    std::string name;
    std::map<std::string, std::string> attributes;  ///< as written, entities and all
    std::string text;                               ///< directly inside, as written

    std::string at(const std::string& attribute) const {
        const auto found = attributes.find(attribute);
        return found == attributes.end() ? std::string{} : found->second;
    }
};

/// Reads the small part of XML that drawings use, and refuses everything that is not well-formed in it.
class XmlCheck {
public:
    explicit XmlCheck(std::string_view document) : rest_{document} { read(); }

    /// Empty where the document is well-formed.
    const std::string& fault() const { return fault_; }
    const std::vector<XmlElement>& elements() const { return elements_; }

    std::vector<XmlElement> with_class(std::string_view look) const {
        std::vector<XmlElement> found;
        for (const XmlElement& e : elements_) {
            if (e.at("class") == look) {
                found.push_back(e);
            }
        }
        return found;
    }
    bool has_text(std::string_view text) const {
        for (const XmlElement& e : elements_) {
            if (e.name == "text" && e.text == text) {
                return true;
            }
        }
        return false;
    }

private:
    void fail(const std::string& why) {
        if (fault_.empty()) {
            fault_ = why + " before: " + std::string{rest_.substr(0, 60)};
        }
        rest_ = {};
    }
    bool take(std::string_view what) {
        const bool there = rest_.substr(0, what.size()) == what;
        if (there) {
            rest_.remove_prefix(what.size());
        }
        return there;
    }
    void skip_space() {
        while (!rest_.empty() && std::isspace(static_cast<unsigned char>(rest_.front())) != 0) {
            rest_.remove_prefix(1);
        }
    }
    std::string take_until(std::string_view ends) {
        const auto end = std::min(rest_.find_first_of(ends), rest_.size());
        std::string taken{rest_.substr(0, end)};
        rest_.remove_prefix(end);
        return taken;
    }
    void check_entities(const std::string& text) {
        for (auto at = text.find('&'); at != std::string::npos; at = text.find('&', at + 1)) {
            bool known = false;
            for (const std::string_view e : {"&amp;", "&lt;", "&gt;", "&quot;", "&#39;"}) {
                known = known || text.compare(at, e.size(), e) == 0;
            }
            if (!known) {
                fail("unknown entity in " + text);
            }
        }
    }
    void read() {
        if (!take("<?xml version=\"1.0\" encoding=\"UTF-8\"?>")) {
            fail("no XML declaration");
        }
        skip_space();
        bool seen_root = false;
        while (!rest_.empty()) {
            if (take("</")) {
                close();
            } else if (take("<")) {
                if (open_.empty() && seen_root) {
                    fail("second root");
                }
                seen_root = true;
                open();
            } else {
                text();
            }
        }
        if (fault_.empty() && (!open_.empty() || !seen_root)) {
            fail("not closed");
        }
    }
    void close() {
        const std::string name = take_until("<>");
        if (!take(">") || open_.empty() || elements_[open_.back()].name != name) {
            fail("wrong end of " + name);
            return;
        }
        open_.pop_back();
    }
    void open() {
        XmlElement e;
        e.name = take_until(" />\n");
        while (fault_.empty() && take(" ")) {
            const std::string name = take_until("= >/");
            if (name.empty() || !take("=\"") || e.attributes.count(name) != 0) {
                fail("bad attribute " + name);
                return;
            }
            const std::string value = take_until("\"<");
            check_entities(value);
            if (!take("\"")) {
                fail("bad value of " + name);
            }
            e.attributes[name] = value;
        }
        elements_.push_back(e);
        if (take("/>")) {
            return;
        }
        if (!take(">")) {
            fail("bad tag " + e.name);
        }
        open_.push_back(elements_.size() - 1);
    }
    void text() {
        const std::string text = take_until("<");
        check_entities(text);
        if (open_.empty()) {
            if (text.find_first_not_of(" \n") != std::string::npos) {
                fail("text outside");
            }
        } else {
            elements_[open_.back()].text += text;
        }
    }

    std::string_view rest_;
    std::string fault_;
    std::vector<XmlElement> elements_;
    std::vector<std::size_t> open_;
};

}  // namespace linewood::test
