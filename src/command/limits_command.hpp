#pragma once

#include <string>

#include "assess/record/line_direction.hpp"
#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"
#include "src/report/limit_report.hpp"

namespace linewood {

/// `linewood limits`: the tables a crew carries, solved from the model for any criteria.
class LimitsCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    UnitSystem units() const { return units_ == "si" ? UnitSystem::si : UnitSystem::us; }
    LineDirection typed_line() const;
    LimitRows typed_rows(const Criteria& criteria, bool with_angles) const;
    void add_typed_girths(LimitReport& report) const;
    void add_poles_of_species(LimitReport& report) const;
    bool wants(const char* table) const;
    void check_tables() const;
    void refuse_unused(bool transverse_governs) const;
    void note_missing_rows(LimitReport& report, const LimitRows& rows) const;
    std::string checked_format() const;

    std::string criteria_;
    std::string units_ = "us";
    std::string role_ = "tangent";
    std::string deflection_;
    std::string tables_ = "girth,pocket,mouth";
    std::string girths_;
    std::string depths_;
    std::string shells_;
    std::string angles_ = "0:90:15";
    std::string species_;
    std::string classes_;
    std::string lengths_;
    std::string wood_tables_;
    double resolution_ = 0.0;  ///< 0: not given
    std::string format_;
    std::string out_;
    bool overwrite_ = false;
    TalkOptions talk_;
};

}  // namespace linewood
