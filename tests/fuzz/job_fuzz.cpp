#include <cstddef>
#include <cstdint>
#include <string_view>

#include "src/job/contract_fields.hpp"
#include "src/job/date_pattern.hpp"
#include "src/job/job_error.hpp"
#include "src/job/job_file.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

void must(bool holds) {
    if (!holds) {
        __builtin_trap();
    }
}

/// What was let in can be read: every field is one of its layer, every size has a unit.
void look_at(const linewood::FieldMapping& mapping, linewood::InputLayer layer) {
    const auto* const field = linewood::contract_field(layer, mapping.field);
    must(field != nullptr && !mapping.sources.empty());
    for (const linewood::FieldSource& source : mapping.sources) {
        must(!linewood::is_dimension(field->quantity) || !source.unit.empty());
        must(source.factor > 0.0);
        must(source.date_pattern.empty() || !linewood::date_pattern_fault(source.date_pattern));
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto* text = reinterpret_cast<const char*>(data);
    try {
        const linewood::JobFile job = linewood::read_job(std::string_view{text, size}, "/dev");
        for (std::size_t layer = 0; layer < job.layers.size(); ++layer) {
            for (const auto& source : job.layers[layer]) {
                for (const auto& field : source.fields) {
                    look_at(field, static_cast<linewood::InputLayer>(layer));
                }
            }
        }
    } catch (const linewood::JobError&) {
        // The one error the reader may throw.
    }
    return 0;
}
