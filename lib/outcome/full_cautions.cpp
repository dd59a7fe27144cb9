#include "lib/outcome/full_cautions.hpp"

#include <algorithm>

#include "lib/outcome/words.hpp"

#include <fmt/format.h>

namespace fettlefund::planning {

std::vector<FullCaution> cautions_in_full(const Outcome& outcome) {
  std::vector<FullCaution> all;
  for (const Caution& caution : outcome.cautions) all.push_back({caution, {}});
  for (const StageView& stage : outcome.stages) {
    for (const Caution& caution : stage.cautions) {
      auto known = std::find_if(all.begin(), all.end(), [&](const FullCaution& one) {
        return one.caution.text == caution.text && one.caution.source == caution.source;
      });
      if (known == all.end()) known = all.insert(all.end(), {caution, {}});
      known->stages.push_back(stage.number);
    }
  }
  return all;
}

std::string with_stages(const std::string& text, const std::vector<int>& stages) {
  if (stages.empty()) return text;
  std::vector<std::string> numbers;
  for (const int stage : stages) numbers.push_back(std::to_string(stage));
  return fmt::format("{} [{} {}]", text, stages.size() == 1 ? "stage" : "stages", list_text(numbers));
}

}  // namespace fettlefund::planning
