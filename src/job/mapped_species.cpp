#include "src/job/mapped_species.hpp"

#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"

namespace linewood {
namespace {

void must_be_species(const std::string& path, const std::string& word, const WoodTables& tables) {
    if (tables.find_species(word)) {
        return;
    }
    std::vector<std::string_view> codes;
    for (std::size_t i = 0; i < tables.species_count(); ++i) {
        codes.push_back(tables.species(static_cast<SpeciesIndex>(i)).code);
    }
    throw JobError{
        fmt::format("{}: \"{}\" is no species of the tables{}; known are \"{}\". null means not "
                    "recorded; species of your own come from --wood-tables",
                    path,
                    word,
                    did_you_mean(word, codes),
                    fmt::join(codes, "\", \""))};
}

void check_source(const FieldSource& source, const WoodTables& tables) {
    if (source.from == FieldSource::From::constant) {
        must_be_species(source.path, source.constant, tables);
    }
    for (const auto& [text, word] : source.codes) {
        if (word) {
            must_be_species(source.codes_path + "." + text, *word, tables);
        }
    }
    if (source.others) {
        must_be_species(source.others_path, *source.others, tables);
    }
}

}  // namespace

void check_mapped_species(std::span<const SourceMapping> poles, const WoodTables& tables) {
    for (const SourceMapping& mapping : poles) {
        for (const FieldMapping& field : mapping.fields) {
            if (field.field != "species") {
                continue;
            }
            for (const FieldSource& source : field.sources) {
                check_source(source, tables);
            }
        }
    }
}

}  // namespace linewood
