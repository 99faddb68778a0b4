#include "geo/io/pg_file.h"

#include <utility>

#include "geo/io/sqlite_file.h"

namespace linewood {

PgFile::PgFile(const std::string& connection, OutputOptions options)
    : shown_{shown_dataset(connection)}, options_{std::move(options)} {
    start_gdal();
    ErrorCollector errors;
    dataset_.reset(GDALDataset::Open(connection.c_str(),
                                     GDAL_OF_VECTOR | GDAL_OF_UPDATE | GDAL_OF_VERBOSE_ERROR));
    if (!dataset_) {
        throw_gdal_error(shown_, "", "connecting", errors);
    }
    if (dataset_->StartTransaction(FALSE) != OGRERR_NONE) {
        throw_gdal_error(shown_, "", "beginning the transaction", errors);
    }
    // A table that somebody else holds is an error, not an endless wait.
    run("SET LOCAL lock_timeout = '20s'");
    clear_own_layers();
}

void PgFile::run(const std::string& sql) {
    ErrorCollector errors;
    OGRLayer* result = dataset_->ExecuteSQL(sql.c_str(), nullptr, nullptr);
    if (result != nullptr) {
        dataset_->ReleaseResultSet(result);
    }
    if (errors.failed()) {
        throw_gdal_error(shown_, "", "writing", errors);
    }
}

std::string PgFile::ask(const std::string& sql) {
    ErrorCollector errors;
    OGRLayer* result = dataset_->ExecuteSQL(sql.c_str(), nullptr, nullptr);
    std::string answer;
    if (result != nullptr) {
        if (const OGRFeatureUniquePtr row{result->GetNextFeature()}) {
            answer = row->IsFieldSetAndNotNull(0) != 0 ? row->GetFieldAsString(0) : "";
        }
        dataset_->ReleaseResultSet(result);
    }
    if (errors.failed()) {
        throw_gdal_error(shown_, "", "reading", errors);
    }
    return answer;
}

std::string PgFile::table_of(const std::string& layer) {
    // OGR calls tables of other schemas `schema.table`; a table of the active one may have a point in its name.
    const std::string here = ask(
        "SELECT 1 FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace WHERE n.nspname = "
        "current_schema() AND c.relname = " +
        quoted_text(layer));
    const auto point = layer.find('.');
    if (here.empty() && point != std::string::npos) {
        return quoted_name(layer.substr(0, point)) + "." + quoted_name(layer.substr(point + 1));
    }
    return quoted_name(ask("SELECT current_schema()")) + "." + quoted_name(layer);
}

bool PgFile::has_table(const std::string& table) {
    return !ask("SELECT 1 FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace WHERE "
                "n.nspname = current_schema() AND c.relname = " +
                quoted_text(table))
                .empty();
}

/// Before OGR lists the tables, which it does once.
void PgFile::clear_own_layers() {
    std::vector<std::string> there;
    for (const std::string& layer : options_.own_layers) {
        if (has_table(layer)) {
            there.push_back(layer);
        }
    }
    if (there.empty()) {
        return;
    }
    if (!options_.in_place && !options_.overwrite) {
        throw DataError{
            shown_,
            there.front(),
            "it exists already; give --overwrite to replace the tables of an earlier run, "
            "or another schema (active_schema=NAME in the connection)"};
    }
    const bool ours = !ask("SELECT 1 FROM information_schema.columns WHERE table_schema = "
                           "current_schema() AND table_name = 'run' AND column_name = 'item'")
                           .empty();
    if (!options_.in_place && (!ours || has_table("line_spans"))) {
        throw DataError{
            shown_,
            there.front(),
            "not replaced, because the tables of this schema are not all the tool's own; "
            "choose another schema (active_schema=NAME in the connection)"};
    }
    for (const std::string& layer : there) {
        run("DROP TABLE " + table_of(layer));
    }
}

void PgFile::make_room(const std::string& table) {
    if (has_table(table)) {
        throw DataError{
            shown_,
            table,
            "there is a table or view of this name already, which the tool did not write; "
            "rename it"};
    }
}

void PgFile::run_last() {
    for (const std::string& sql : last_) {
        run(sql);
    }
    last_.clear();
}

void PgFile::finish() {
    ErrorCollector errors;
    if (dataset_->CommitTransaction() != OGRERR_NONE || errors.failed()) {
        throw_gdal_error(shown_, "", "committing", errors);
    }
    dataset_.reset();
}

void PgFile::drop() noexcept {
    if (dataset_) {
        const ErrorCollector quiet;
        dataset_->RollbackTransaction();
        dataset_.reset();
    }
}

}  // namespace linewood
