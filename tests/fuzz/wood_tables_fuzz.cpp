#include <cstddef>
#include <cstdint>
#include <string_view>

#include "assess/wood/table_girth.hpp"
#include "src/job/job_error.hpp"
#include "src/job/wood_tables_json.hpp"

namespace linewood {
namespace {

/// Whatever was let in must be fit for use: look up a pole of every row and class.
void use(const WoodTables& tables) {
    for (std::size_t s = 0; s < tables.species_count(); ++s) {
        Pole pole;
        pole.species = static_cast<SpeciesIndex>(s);
        const DimensionTable* table = tables.table_of(pole.species);
        if (table == nullptr) {
            continue;
        }
        for (const DimensionRow& row : table->rows) {
            for (int c = 0; c < kPoleClassCount; ++c) {
                pole.length = row.length;
                pole.has_class = true;
                pole.pole_class = static_cast<PoleClass>(c);
                const TableLookup got = look_up(tables, pole);
                if (got.groundline_girth && !(*got.groundline_girth > Length{})) {
                    __builtin_trap();
                }
            }
        }
    }
}

}  // namespace
}  // namespace linewood

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto* text = reinterpret_cast<const char*>(data);
    try {
        linewood::use(linewood::read_wood_tables(std::string_view{text, size},
                                                 linewood::WoodTables::built_in()));
    } catch (const linewood::JobError&) {
        // The one error the reader may throw.
    }
    return 0;
}
