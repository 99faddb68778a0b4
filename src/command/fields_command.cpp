#include "src/command/fields_command.hpp"

#include <cstdio>

#include "src/report/field_report.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood fields > fields.md\n"
    "  linewood fields --format json --units si\n"
    "  linewood fields --format table-schema > datapackage.json\n"
    "\n"
    "GeoPackages and databases hold unit and meaning of each column themselves; beside other "
    "formats\n"
    "lie fields.csv and fields.json.\n"
    "\n"
    "Exit codes: 0 done, 1 failed, 2 called wrongly.";

}  // namespace

CLI::App* FieldsCommand::setup(CLI::App& program) {
    CLI::App* c =
        program.add_subcommand("fields", "Fields that are read and written: type, unit, meaning");
    c->footer(kExamples);
    c->add_option("--format", format_, "What is written: markdown, json or table-schema")
        ->check(CLI::IsMember({"markdown", "json", "table-schema"}))
        ->capture_default_str();
    c->add_option("--units", units_, "Of what is written by a run: us (in, ft) or si (mm, m)")
        ->check(CLI::IsMember({"us", "si"}))
        ->capture_default_str();
    talk_.add_to(*c);
    return c;
}

int FieldsCommand::run() {
    const FieldLists lists = field_lists(units_ == "si" ? UnitSystem::si : UnitSystem::us);
    const std::string out = format_ == "json"           ? fields_json(lists)
                            : format_ == "table-schema" ? fields_table_schema(lists)
                                                        : fields_markdown(lists);
    std::fputs(out.c_str(), stdout);
    return kExitDone;
}

}  // namespace linewood
