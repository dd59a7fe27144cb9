#pragma once
#include "lib/build/json/fields.hpp"

/// One reader a section of the build file. Each reports what is wrong and leaves defaults in its place.
namespace fettlefund::build {

/// All ids of the build, collected before anything refers to them.
Ids collect_ids(const Node& root);

/// Steps are told apart by their ids in the whole build: reports those that stand twice.
void check_step_ids(const Node& root, Findings& findings);

void read_money_plan(Context& context, const Node& node, MoneyPlan& money);
void read_bench(Context& context, const Node& node, int stages, Bench& bench);
void read_supplier(Context& context, const Node& node, Supplier& supplier);
void read_article(Context& context, const Node& node, Article& article);
std::optional<OnHand> read_on_hand(Context& context, const Node& node);
void read_removal(Context& context, const Node& node, Removal& removal);
void read_job(Context& context, const Node& node, Job& job);
void read_fitted(Context& context, const Node& node, Fitted& fitted);
std::optional<Clash> read_clash(Context& context, const Node& node);
std::optional<Rule> read_rule(Context& context, const Node& node);
std::optional<Silence> read_silence(Context& context, const Node& node);
void read_drive(Context& context, const Node& node, const Build& build, DriveTrain& drive);

// Shared by several sections.
std::optional<Use> read_use(Context& context, const Node& node);
std::optional<Mates> read_mates(Context& context, const Node& node);
std::optional<std::vector<std::string>> read_words(Context& context,
                                                   const Node& node);  ///< each a line, once
std::optional<std::vector<Torque>> read_torques(Context& context, const Node& node);
std::optional<std::vector<Check>> read_checks(Context& context, const Node& node);
std::optional<std::vector<Step>> read_steps(Context& context, const Node& node);

}  // namespace fettlefund::build
