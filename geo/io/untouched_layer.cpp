#include "geo/io/vector_layers.h"

namespace linewood {
namespace {

/// A layer of a dataset changed in place that stays as it is.
class UntouchedLayer final : public LayerSink {
public:
    explicit UntouchedLayer(const LayerPlan& plan) : LayerSink{plan} {}

    void close() override {}
    void drop() noexcept override {}
    const std::vector<OutColumn>& columns() const override { return columns_; }
    bool is_written() const override { return false; }

protected:
    void write(const RowInput& /*input*/, OGRGeometryUniquePtr /*geometry*/) override {}

private:
    std::vector<OutColumn> columns_;
};

}  // namespace

std::unique_ptr<LayerSink> make_untouched_layer(LayerPlan plan) {
    plan.carried.clear();
    plan.geometry = {};
    return std::make_unique<UntouchedLayer>(plan);
}

}  // namespace linewood
