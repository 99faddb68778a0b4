#include "src/command/assess_command.hpp"
#include "src/command/clusters_command.hpp"
#include "src/command/command.hpp"
#include "src/command/corridors_command.hpp"
#include "src/command/criteria_command.hpp"
#include "src/command/describe_command.hpp"
#include "src/command/draft_command.hpp"
#include "src/command/fields_command.hpp"
#include "src/command/finding_command.hpp"
#include "src/command/job_command.hpp"
#include "src/command/limits_command.hpp"
#include "src/command/network_command.hpp"
#include "src/command/projects_command.hpp"
#include "src/command/publish_command.hpp"
#include "src/command/section_command.hpp"
#include "src/command/serve_command.hpp"
#include "src/command/styles_command.hpp"
#include "src/command/worksheet_command.hpp"

namespace linewood {

std::vector<std::unique_ptr<Command>> all_commands() {
    std::vector<std::unique_ptr<Command>> commands;
    commands.push_back(std::make_unique<AssessCommand>());
    commands.push_back(std::make_unique<NetworkCommand>());
    commands.push_back(std::make_unique<SectionCommand>());
    commands.push_back(std::make_unique<WorksheetCommand>());
    commands.push_back(std::make_unique<ClustersCommand>());
    commands.push_back(std::make_unique<CorridorsCommand>());
    commands.push_back(std::make_unique<ProjectsCommand>());
    commands.push_back(std::make_unique<ServeCommand>());
    commands.push_back(std::make_unique<PublishCommand>());
    commands.push_back(std::make_unique<CriteriaCommand>());
    commands.push_back(std::make_unique<JobCommand>());
    commands.push_back(std::make_unique<DescribeCommand>());
    commands.push_back(std::make_unique<DraftCommand>());
    commands.push_back(std::make_unique<LimitsCommand>());
    commands.push_back(std::make_unique<FindingCommand>());
    commands.push_back(std::make_unique<FieldsCommand>());
    commands.push_back(std::make_unique<StylesCommand>());
    return commands;
}

}  // namespace linewood
