#include "src/job/value_mapping.hpp"

#include <array>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "geo/io/composed_layer.hpp"
#include "src/job/code_words.hpp"
#include "src/job/date_pattern.hpp"
#include "src/job/job_values.hpp"
#include "src/job/unit_words.hpp"

namespace linewood {
namespace {

constexpr std::array<std::string_view, 11> kValueKeys{"field",
                                                      "feature_id",
                                                      "constant",
                                                      "first_of",
                                                      "unit",
                                                      "measure",
                                                      "codes",
                                                      "others",
                                                      "nulls",
                                                      "date",
                                                      "decimal"};
constexpr std::array<std::string_view, 3> kMeasures{"girth", "diameter", "radius"};
constexpr std::array<std::string_view, 2> kDecimals{".", ","};
constexpr std::size_t kMostAlternatives = 20;

/// One value form, over what stands around it.
class ValueReader {
public:
    ValueReader(const ContractField& field, bool has_groups)
        : field_{field}, has_groups_{has_groups} {}

    void read(const JsonNode& node, FieldSource base, std::vector<FieldSource>& out) const {
        if (node.is_text()) {
            base.column = node.text(kMostJobText);
            finish(node, node.path(), std::move(base), out);
            return;
        }
        node.only_keys(kValueKeys);
        read_rules(node, base);
        if (const auto list = node.find("first_of")) {
            only_one(node, "first_of");
            const auto items = list->items(kMostAlternatives);
            if (items.empty()) {
                list->fail("the list is empty; name the fields in order");
            }
            for (const JsonNode& item : items) {
                read(item, base, out);
                if (out.size() > kMostAlternatives) {
                    list->fail(fmt::format("more than {} alternatives in all", kMostAlternatives));
                }
            }
            return;
        }
        std::string path = node.path();
        if (const auto column = node.find("field")) {
            only_one(node, "field");
            base.from = FieldSource::From::column;
            base.column = column->text(kMostJobText);
            path = column->path();
        } else if (const auto id = node.find("feature_id")) {
            only_one(node, "feature_id");
            if (!id->boolean()) {
                id->fail_value("says nothing; leave it away, or name a field");
            }
            base.from = FieldSource::From::feature_id;
        } else if (const auto constant = node.find("constant")) {
            only_one(node, "constant");
            read_constant(*constant, base);
            path = constant->path();
        } else {
            node.fail("one of \"field\", \"first_of\", \"constant\", \"feature_id\" is missing");
        }
        finish(node, path, std::move(base), out);
    }

private:
    static void only_one(const JsonNode& node, std::string_view chosen) {
        for (const std::string_view other : {"field", "first_of", "constant", "feature_id"}) {
            if (other != chosen && node.find(other)) {
                node.fail(fmt::format("\"{}\" and \"{}\" cannot stand together", chosen, other));
            }
        }
    }

    void read_rules(const JsonNode& node, FieldSource& to) const {
        if (const auto unit = node.find("unit")) {
            to.unit = read_unit(*unit, field_);
        }
        if (const auto measure = node.find("measure")) {
            if (field_.quantity != Quantity::girth) {
                measure->fail(
                    fmt::format("{} is no girth: nothing can be a measure of it", field_.name));
            }
            to.measure = kMeasures[measure->choice(kMeasures)];
        }
        if (const auto codes = node.find("codes")) {
            to.codes.clear();
            to.codes_path = codes->path();
            for (const auto& member : codes->members(kMostJobItems)) {
                to.codes[member.key] = code_meaning(member.value, field_);
            }
            if (to.codes.empty()) {
                codes->fail("there are no codes in it");
            }
            std::erase_if(to.nulls,
                          [&](const std::string& text) { return to.codes.count(text) != 0; });
        }
        if (const auto others = node.find("others")) {
            to.has_others = true;
            to.others_path = others->path();
            to.others = code_meaning(*others, field_);
        }
        if (const auto nulls = node.find("nulls")) {
            const auto more = list_of_texts(*nulls, kMostJobItems);
            to.nulls.insert(to.nulls.end(), more.begin(), more.end());
        }
        if (const auto pattern = node.find("date")) {
            if (field_.quantity != Quantity::date) {
                pattern->fail(fmt::format("{} is no date", field_.name));
            }
            to.date_path = pattern->path();
            to.date_pattern = pattern->text(kMostJobText);
            if (const auto fault = date_pattern_fault(to.date_pattern)) {
                pattern->fail_value(*fault);
            }
        }
        if (const auto decimal = node.find("decimal")) {
            to.decimal_comma = decimal->choice(kDecimals) == 1;
        }
    }

    void read_constant(const JsonNode& node, FieldSource& to) const {
        const auto word = code_meaning(node, field_);
        if (!word) {
            node.fail("null is no constant; leave the field away");
        }
        to.from = FieldSource::From::constant;
        to.constant = *word;
    }

    /// Checks what can only be said of the whole, and works out the factor.
    void finish(const JsonNode& node,
                const std::string& path,
                FieldSource source,
                std::vector<FieldSource>& out) const {
        source.path = path;
        if (source.from == FieldSource::From::column) {
            const bool marked = source.column.find(kGroupMark) != std::string::npos;
            if (marked && !has_groups_) {
                node.fail_value(
                    "holds {n}, but its source has no \"repeat\" that says what stands for it");
            }
        }
        if (is_dimension(field_.quantity)) {
            if (source.unit.empty()) {
                node.fail(
                    fmt::format("\"unit\" is missing: {} is a size or an angle, and nothing "
                                "is guessed; say one of {}",
                                field_.name,
                                unit_list(field_)));
            }
            set_factor(source, field_);
        }
        out.push_back(std::move(source));
    }

    const ContractField& field_;
    bool has_groups_;
};

}  // namespace

void read_value(const JsonNode& node,
                const ContractField& field,
                bool has_groups,
                const FieldSource& base,
                std::vector<FieldSource>& out) {
    ValueReader{field, has_groups}.read(node, base, out);
}

}  // namespace linewood
