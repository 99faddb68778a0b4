#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "src/job/network_job.hpp"

namespace CLI {
class App;
}

namespace linewood {

/// The options of every command that joins spans to poles and writes layers.
struct NetworkOptions {
    std::string input;
    std::string poles;
    std::string spans;
    std::string out;
    std::string format;
    std::string plane_unit = "m";
    double snap_m = -1.0;          ///< negative: not given
    double nearest_line_m = -1.0;  ///< negative: not given
    double id_distance_m = -1.0;   ///< negative: not given
    std::string line_where;
    std::size_t threads = 0;
    bool overwrite = false;
    bool poles_from_spans = false;
    bool in_place = false;
    std::string crs;
    bool has_mapped_poles = false;  ///< a job file says what the poles are

    /// Adds IN and all options. @param layers what IN holds, for the help.
    void add_to(CLI::App& command, const std::string& layers);
    /// IN and the options that name layers.
    void add_layers_to(CLI::App& command, const std::string& layers);
    /// How spans are joined to poles, and with how many threads.
    void add_settings_to(CLI::App& command);

    /// Everything checked and put into the job, whose settings come from a profile before.
    /// @throws JobError
    void fill(NetworkJob& job) const;
    /// The same without where to write and in which format.
    void fill_inputs(NetworkJob& job) const;
    /// `--out`, `--format` and `--overwrite` alone.
    void add_output_to(CLI::App& command, bool required = true);
    /// Of OUT, by its name or `--format`. @throws JobError
    OutputFormat checked_format() const;

private:
    void add_place_to(CLI::App& command);
    void fill_output(NetworkJob& job) const;
    void refuse_beside_in_place() const;

    std::string command_;
};

/// `text`, or nothing where it is empty: an option that was not given.
std::optional<std::string> if_given(const std::string& text);

}  // namespace linewood
