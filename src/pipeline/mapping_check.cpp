#include "src/pipeline/mapping_check.hpp"

#include <map>
#include <utility>

#include <fmt/format.h>

#include "src/job/job_error.hpp"
#include "src/job/mapped_species.hpp"
#include "src/pipeline/empty_condition.hpp"
#include "src/pipeline/layer_check.hpp"

namespace linewood {
namespace {

bool maps_nothing(const JobFile& job) {
    for (const auto& sources : job.layers) {
        if (!sources.empty()) {
            return false;
        }
    }
    return true;
}

/// The four layers as far as a dataset has them, each by its own names.
JobFile own_layers_of(const Source& source) {
    std::string layers;
    for (std::size_t i = 0; i < 4; ++i) {
        const std::string_view name = name_of(static_cast<InputLayer>(i));
        if (source.has_layer(name)) {
            layers += fmt::format("{}\"{}\": {{}}", layers.empty() ? "" : ", ", name);
        }
    }
    return read_job("{\"layers\": {" + layers + "}}", {});
}

/// Doubts of single values, those of a kind together.
std::string told_doubts(const Findings& findings) {
    std::map<std::string, std::pair<std::int64_t, const Finding*>> doubts;
    for (const Finding& f : findings) {
        auto& doubt =
            doubts[std::string{name_of(f.layer)} + "." + f.field + ": " + std::string{f.code}];
        ++doubt.first;
        doubt.second = doubt.second == nullptr ? &f : doubt.second;
    }
    std::string text;
    for (const auto& [what, doubt] : doubts) {
        const std::string& first = doubt.second->value;
        text += fmt::format("{}: {} ({} {}{})\n",
                            what,
                            doubt.second->message,
                            doubt.first,
                            doubt.first == 1 ? "time" : "times",
                            first.empty() ? "" : fmt::format(", first \"{}\"", first));
    }
    return text;
}

class MappingCheck {
public:
    MappingCheck(const JobFile& job, const std::string& input) : job_{job} {
        if (!input.empty()) {
            addresses_.dataset = input;
            shared_ = Source::open(input);
        }
        if (maps_nothing(job_)) {
            take_own_layers();
        }
        addresses_.mapped = job_.layers;
        for (std::size_t i = 0; i < job_.layers.size(); ++i) {
            addresses_.wanted[i] = !job_.layers[i].empty();
        }
        // Poles that are there and not mapped are none that are not wanted.
        addresses_.wanted[0] =
            addresses_.wanted[0] || (shared_ && shared_->has_layer(name_of(InputLayer::poles)));
    }

    std::string text() {
        Findings findings;
        const InputLayers inputs = open_inputs(addresses_, findings);
        std::string refused;
        const auto refuse = [&](const std::string& message) {
            refused += (refused.empty() ? "" : "\n") + message;
        };
        for (const auto& [i, mapping] : all_sources()) {
            if (const auto empty = empty_condition(*mapping, i, shared_)) {
                refuse(*empty);
            }
        }
        std::string told;
        for (std::size_t i = 0; i < inputs.layers.size(); ++i) {
            if (!inputs.layers[i] || !inputs.layers[i]->columns) {
                continue;
            }
            const auto layer = check_layer(*inputs.layers[i], static_cast<InputLayer>(i), findings);
            told += layer.told;
            for (const std::string& message : layer.refusals) {
                refuse(message);
            }
        }
        try {
            refuse_unknown_codes(inputs);
        } catch (const JobError& e) {
            refuse(e.what());
        }
        if (!refused.empty()) {
            throw JobError{refused};
        }
        const std::string doubts = told_doubts(findings);
        return told + told_missing() + doubts +
               (doubts.empty() ? "the job file fits its layers\n"
                               : "the job file fits its layers, with the doubts above\n");
    }

private:
    void take_own_layers() {
        if (!shared_) {
            throw JobError{
                "layers: nothing is mapped, so there is nothing to check; name the layers "
                "(linewood draft IN writes a first file), or the dataset that settings are for: "
                "linewood job check FILE IN"};
        }
        job_.layers = own_layers_of(*shared_).layers;
        if (maps_nothing(job_)) {
            throw JobError{fmt::format(
                "layers: nothing is mapped, and {} has none of the layers \"poles\", \"spans\", "
                "\"inspections\", \"defects\"; linewood draft IN writes a first file",
                shared_->dataset())};
        }
    }

    std::vector<std::pair<InputLayer, const SourceMapping*>> all_sources() const {
        std::vector<std::pair<InputLayer, const SourceMapping*>> all;
        for (std::size_t i = 0; i < job_.layers.size(); ++i) {
            for (const SourceMapping& mapping : job_.layers[i]) {
                all.emplace_back(static_cast<InputLayer>(i), &mapping);
            }
        }
        return all;
    }

    std::string told_missing() const {
        const bool made = job_.settings.poles_from_spans.value_or(false);
        return job_.layers[0].empty() && !made
                   ? "poles are not mapped: a run takes those of the dataset it is given\n"
                   : "";
    }

    JobFile job_;
    InputAddresses addresses_;
    std::optional<Source> shared_;
};

}  // namespace

std::string mapping_check_text(const JobFile& job,
                               const std::string& input,
                               const WoodTables& tables) {
    check_mapped_species(job.layers[0], tables);
    return MappingCheck{job, input}.text();
}

}  // namespace linewood
