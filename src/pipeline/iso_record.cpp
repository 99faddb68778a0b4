#include "src/pipeline/iso_record.hpp"

namespace linewood {
namespace {

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            default:
                // No other control characters can stand in XML.
                out += static_cast<unsigned char>(c) < 0x20U && c != '\n' && c != '\t' ? ' ' : c;
        }
    }
    return out;
}

std::string element(std::string_view name, const std::string& inside) {
    const std::string tag = "gmd:" + std::string{name};
    return "<" + tag + ">" + inside + "</" + tag + ">\n";
}

std::string text(std::string_view name, std::string_view value) {
    return element(name, "<gco:CharacterString>" + escaped(value) + "</gco:CharacterString>");
}

std::string missing(std::string_view name) {
    return "<gmd:" + std::string{name} + " gco:nilReason=\"missing\"/>\n";
}

std::string day_of(std::string_view name, std::string_view day) {
    return day.empty() ? missing(name) : element(name, "<gco:Date>" + escaped(day) + "</gco:Date>");
}

/// An entry of one of the standard's lists of words.
std::string word(std::string_view list, std::string_view value) {
    const std::string tag = "gmd:" + std::string{list};
    return "<" + tag + " codeList=\"http://www.isotc211.org/2005/resources/codeList.xml#" +
           std::string{list} + "\" codeListValue=\"" + std::string{value} + "\">" +
           std::string{value} + "</" + tag + ">";
}

bool begins(const std::string& item, std::string_view word_of) {
    return item.rfind(word_of, 0) == 0;
}

/// What one statement says, as a sentence of the lineage.
std::string sentence(const RunStatement& s) {
    return s.item + (s.layer.empty() ? "" : " (" + s.layer + ")") + ": " + s.value;
}

std::string lineage(const std::vector<RunStatement>& statements) {
    std::string steps;
    std::string sources;
    std::string about;
    for (const RunStatement& s : statements) {
        if (begins(s.item, "input")) {
            sources += element("source", element("LI_Source", text("description", sentence(s))));
        } else if (begins(s.item, "job_") || s.item == "tool" ||
                   (begins(s.item, "criteria") && s.item != "criteria_profile")) {
            steps += (steps.empty() ? "" : "; ") + sentence(s);
        } else if (begins(s.item, "count") || s.item == "caution") {
            about += (about.empty() ? "" : "; ") + sentence(s);
        }
    }
    return element(
        "lineage",
        element("LI_Lineage",
                text("statement", about) +
                    element("processStep", element("LI_ProcessStep", text("description", steps))) +
                    sources));
}

}  // namespace

std::string iso_record(const std::vector<RunStatement>& statements,
                       std::string_view title,
                       std::string_view day) {
    const std::string citation =
        element("CI_Citation",
                text("title", title) +
                    element("date",
                            element("CI_Date",
                                    day_of("date", day) +
                                        element("dateType", word("CI_DateTypeCode", "creation")))));
    const std::string identification = element(
        "identificationInfo",
        element("MD_DataIdentification",
                element("citation", citation) +
                    text("abstract",
                         "Wood poles with the direction of their line, remaining strength and "
                         "verdict, made by linewood from inspections. A screening aid.") +
                    text("language", "eng") +
                    element("topicCategory",
                            "<gmd:MD_TopicCategoryCode>utilitiesCommunication</"
                            "gmd:MD_TopicCategoryCode>")));
    const std::string quality = element(
        "dataQualityInfo",
        element("DQ_DataQuality",
                element("scope",
                        element("DQ_Scope", element("level", word("MD_ScopeCode", "dataset")))) +
                    lineage(statements)));
    return "<gmd:MD_Metadata xmlns:gmd=\"http://www.isotc211.org/2005/gmd\" "
           "xmlns:gco=\"http://www.isotc211.org/2005/gco\">\n" +
           text("language", "eng") + element("hierarchyLevel", word("MD_ScopeCode", "dataset")) +
           missing("contact") + day_of("dateStamp", day) +
           text("metadataStandardName", "ISO 19115") +
           text("metadataStandardVersion", "2003/Cor.1:2006") + identification + quality +
           "</gmd:MD_Metadata>\n";
}

}  // namespace linewood
