#include "src/command/job_command.hpp"

#include <array>
#include <cstdio>
#include <filesystem>

#include <fmt/format.h>

#include "src/job/contract_fields.hpp"
#include "src/job/embedded_text.hpp"
#include "src/job/job_error.hpp"
#include "src/job/job_file.hpp"
#include "src/job/nearest_word.hpp"
#include "src/job/wood_tables_json.hpp"
#include "src/pipeline/mapping_check.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr std::array<std::string_view, 3> kActions{"check", "fields", "schema"};

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood draft poles.shp visits.csv --out job.json   # a first job file, by guesses\n"
    "  linewood job check job.json                          # does it fit its layers?\n"
    "  linewood job check job.json delivery.gpkg            # where sources name no dataset\n"
    "  linewood job fields                                  # the fields that can be mapped\n"
    "  linewood job schema > job.schema.json                # JSON Schema, for editors\n"
    "  linewood assess --job job.json --out condition.gpkg\n"
    "\n"
    "A job file says which layers stand for poles, spans, inspections and defects, what their\n"
    "columns are called, in which units and codes they are kept, and the settings of a run.\n"
    "\n"
    "Exit codes: 0 done, 1 failed, 2 called wrongly.";

std::string_view name_of_quantity(Quantity q) {
    switch (q) {
        case Quantity::text:
            return "text";
        case Quantity::number:
            return "number";
        case Quantity::girth:
            return "girth";
        case Quantity::length:
            return "length";
        case Quantity::angle:
        case Quantity::azimuth:
            return "angle";
        case Quantity::code:
            return "code";
        case Quantity::boolean:
            return "true/false";
        case Quantity::date:
            return "date";
    }
    return "";
}

std::string fields_text() {
    std::string text;
    for (const InputLayer layer :
         {InputLayer::poles, InputLayer::spans, InputLayer::inspections, InputLayer::defects}) {
        text += fmt::format("{}\n", name_of(layer));
        for (const ContractField& field : input_fields(layer)) {
            std::vector<std::string_view> units;
            for (const NamedUnit& unit : units_of(field.quantity)) {
                units.push_back(unit.name);
            }
            text += fmt::format("  {:24}{:12}{}{}{}\n",
                                field.name,
                                name_of_quantity(field.quantity),
                                field.meaning,
                                units.empty() ? "" : fmt::format(" ({})", fmt::join(units, ", ")),
                                field.required ? ", needed" : "");
        }
    }
    return text;
}

}  // namespace

CLI::App* JobCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("job", "The file that maps your layers: check, schema");
    c->footer(kExamples);
    c->add_option("action", action_, "check, fields or schema")->type_name("ACTION")->required();
    c->add_option("file", target_, "Job file to check")->type_name("FILE");
    c->add_option("input", input_, "Dataset for sources that name none")->type_name("IN");
    talk_.add_to(*c);
    return c;
}

std::string JobCommand::check() const {
    if (target_.empty()) {
        throw JobError{"job check: name the job file"};
    }
    const JobFile job = read_from_file(target_, [this](const std::string& text) {
        return read_job(text, std::filesystem::path{target_}.parent_path());
    });
    WoodTables tables = WoodTables::built_in();
    if (job.settings.wood_tables) {
        tables = read_from_file(*job.settings.wood_tables, [&](const std::string& text) {
            return read_wood_tables(text, tables);
        });
    }
    try {
        return mapping_check_text(job, input_, tables);
    } catch (const JobError& e) {
        throw JobError{target_ + ": " + e.what()};
    }
}

int JobCommand::run() {
    std::string out;
    if (action_ == "check") {
        out = check();
    } else if (action_ == "schema") {
        out = embedded_text("job.schema.json");
    } else if (action_ == "fields") {
        out = fields_text();
    } else {
        throw JobError{"job: \"" + action_ + "\" is not one of check, fields, schema" +
                       did_you_mean(action_, kActions)};
    }
    std::fputs(out.c_str(), stdout);
    return kExitDone;
}

}  // namespace linewood
