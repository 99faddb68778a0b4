#include "geo/io/source.hpp"

#include "geo/io/source_pool.h"

namespace linewood {

Source Source::open(const std::string& dataset) { return Source{SourcePool::open(dataset)}; }

const std::string& Source::dataset() const { return pool_->dataset(); }
const std::string& Source::driver() const { return pool_->driver(); }
const std::vector<std::string>& Source::layer_names() const { return pool_->names(); }
bool Source::has_layer(std::string_view layer) const { return pool_->has(layer); }

const LayerSchema& Source::schema(std::string_view layer) const {
    return pool_->schema(pool_->find(layer));
}

std::vector<std::filesystem::path> Source::files() const { return pool_->all_files(); }

std::vector<std::filesystem::path> Source::files(std::string_view layer) const {
    return pool_->layer_files(pool_->find(layer));
}

}  // namespace linewood
