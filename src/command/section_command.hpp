#pragma once

#include <string>
#include <vector>

#include "assess/record/defect.hpp"
#include "assess/record/inspection.hpp"
#include "assess/record/line_direction.hpp"
#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"
#include "src/job/profile.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

/// `linewood section --original 40 --present 36 --pocket 90,5,3`: one section typed, answered at once.
class SectionCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    UnitSystem units() const { return units_ == "si" ? UnitSystem::si : UnitSystem::us; }
    Inspection typed_visit() const;
    std::vector<Defect> typed_defects() const;
    LineDirection typed_line(const Profile& profile) const;

    std::string original_;
    std::string present_;
    std::vector<std::string> pockets_;
    std::vector<std::string> bores_;
    std::vector<std::string> sounds_;
    std::string shell_rot_;
    std::string line_;
    std::string role_;
    std::string deflection_;
    std::string method_;
    std::string units_ = "us";
    std::string criteria_;
    std::string label_;
    std::string svg_;
    std::string format_ = "text";
    bool overwrite_ = false;
    TalkOptions talk_;
};

}  // namespace linewood
