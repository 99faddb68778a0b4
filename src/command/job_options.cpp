#include "src/command/job_options.hpp"

#include <algorithm>

#include "src/command/shared_options.hpp"
#include "src/job/checksum.hpp"
#include "src/job/job_error.hpp"
#include "src/job/mapped_species.hpp"
#include "src/job/place_clash.hpp"

#include <CLI/CLI.hpp>

namespace linewood {

void JobOptions::add_to(CLI::App& command) {
    command_ = &command;
    command
        .add_option("--job",
                    file_,
                    "Job file: layers, columns, units and codes of your own, and settings (see "
                    "linewood job --help)")
        ->type_name("FILE");
}

/// The command line wins.
template <typename T, typename U>
void JobOptions::set(const char* option, const std::optional<T>& from, U& to) const {
    const CLI::Option* const typed = command_->get_option_no_throw(option);
    if (from && (typed == nullptr || typed->count() == 0)) {
        to = *from;
    }
}

void JobOptions::apply(NetworkOptions& network, std::string& criteria, AssessOptions* assess) {
    if (!given()) {
        return;
    }
    job_ = read_from_file(file_, [this](const std::string& text) {
        sha256_ = sha256_of(text);
        return read_job(text, std::filesystem::path{file_}.parent_path());
    });
    const JobSettings& s = job_.settings;
    set("--snap", s.snap_m, network.snap_m);
    set("--id-distance", s.id_distance_m, network.id_distance_m);
    set("--nearest-line", s.nearest_line_m, network.nearest_line_m);
    set("--plane-unit", s.plane_unit, network.plane_unit);
    set("--line-where", s.line_where, network.line_where);
    set("--poles-from-spans", s.poles_from_spans, network.poles_from_spans);
    set("--threads", s.threads, network.threads);
    set("--criteria", s.criteria, criteria);
    if (assess != nullptr) {
        set("--units", s.units, assess->units);
        set("--wood-tables", s.wood_tables, assess->wood_tables);
        set("--today", s.today, assess->today);
        set("--declination", s.declination_deg, assess->declination);
    }
    network.has_mapped_poles = !job_.layers[0].empty();
}

void JobOptions::fill(NetworkJob& job) const {
    if (!given()) {
        return;
    }
    if (job.in_place && std::any_of(job_.layers.begin(), job_.layers.end(), [](const auto& layer) {
            return !layer.empty();
        })) {
        throw JobError{
            "--in-place: a job file's layers may be of several datasets, none of which is changed; "
            "write "
            "to --out"};
    }
    for (std::size_t i = 0; i < job_.layers.size(); ++i) {
        if (job.inputs.wanted[i] || i == 0) {
            job.inputs.mapped[i] = job_.layers[i];
        }
    }
    job.job_file = std::filesystem::path{file_}.filename().string();
    job.job_name = job_.name;
    job.job_sha256 = sha256_;
}

void JobOptions::fill(AssessJob& job) const {
    fill(static_cast<NetworkJob&>(job));
    try {
        check_mapped_species(job.inputs.mapped[0], job.tables);
    } catch (const JobError& e) {
        throw JobError{file_ + ": " + e.what()};
    }
}

void JobOptions::refuse_to_replace_it(const std::filesystem::path& out) const {
    if (given() && !out.empty()) {
        const std::vector<std::filesystem::path> read{file_};
        refuse_to_replace("--out", out, read);
    }
}

}  // namespace linewood
