#include "geo/io/source.hpp"

#include <algorithm>

#include "geo/io/composed_layer.hpp"
#include "geo/io/composition.h"
#include "geo/io/source_pool.h"

namespace linewood {

Source Source::open(const std::string& dataset) { return Source{SourcePool::open(dataset)}; }

Source Source::compose(std::string name, std::vector<LayerPart> parts) {
    return Source{SourcePool::compose(std::move(name), std::move(parts))};
}

std::vector<Source> Source::datasets() const {
    if (pool_->composition() == nullptr) {
        return {*this};
    }
    std::vector<Source> all;
    for (const LayerPart& part : pool_->composition()->parts()) {
        if (std::none_of(all.begin(), all.end(), [&](const Source& other) {
                return other.dataset() == part.source.dataset();
            })) {
            all.push_back(part.source);
        }
    }
    return all;
}

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
