#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "lib/build/model.hpp"

/// Kinds of work: what a trade knows of a job before anybody describes it. The knowledge stands in the JSON
/// files beside this header, compiled in. All of it is common practice, no source.
namespace fettlefund::trade {

using budgets::Quantity;
using build::Id;

/// Something to have at hand that is easily forgotten, or that the work spoils each time.
struct Line {
  Id id;                ///< of its rule: "<kind with hyphens>-<goods word>", at most 40 characters
  std::string article;  ///< goods word
  std::string name;     ///< for people
  Quantity amount = 1000;
  std::string unit;
  std::string why;
  bool spoilt = false;
  bool tool = false;  ///< used, not used up: one serves however many jobs of a stage
};

/// Something to check or to mind. `id`: "<kind with hyphens>-check-1", "-mind-1"; a silence may name it.
struct Remark {
  Id id;
  std::string text;
};

struct Hours {
  std::int64_t low = 0, likely = 0, high = 0;  ///< minutes, without what has to come off
};

struct Kind {
  std::string name;                ///< small letters, digits and blanks; unique over all trades
  std::string trade;               ///< "motorcycle", "van", "bicycle", "boat", or "common"
  std::vector<std::string> also;   ///< other trades that know it
  std::vector<std::string> words;  ///< what else people call it; several kinds may share one
  std::vector<std::string> comes_off;
  std::vector<Line> lines;   ///< what is easily forgotten, then what is spoilt
  std::string none_because;  ///< why there are no lines; empty where there are
  std::vector<std::string> tools;
  std::string second_person;  ///< what for; empty: not needed
  Hours hours;
  std::vector<Remark> checks;         ///< afterwards
  std::vector<std::string> cautions;  ///< tags of the caution table
  std::vector<Remark> mind;
};

/// All kinds, sorted by name. The shipped files are held to be without a mistake by a test; a mistake throws
/// std::logic_error with all diagnostics.
const std::vector<Kind>& kinds();

/// The kind of this very name, or null.
const Kind* find_kind(std::string_view name);

/// Whether people of this trade know the kind; of "common" those that every trade shares.
bool known_to(const Kind& kind, std::string_view trade);

/// "motorcycle", "van", "bicycle", "boat".
const std::vector<std::string>& trades();

/// Whether what a goods word stands for is used, not used up.
bool is_tool(const std::string& goods_word);

/// The kind whose check or thing to mind has this id, or null.
const Kind* kind_of_remark(const Id& id);

/// Whether the build silences a rule, check or thing to mind for a job or removal.
bool is_silenced(const build::Build& build, const Id& rule, const Id& owner);

/// What the kind of a job has to be checked for afterwards: what the build does not silence and the job does
/// not list itself.
std::vector<std::string> checks_of(const build::Build& build, const build::Job& job);

/// The tags that a job or removal goes by, as `graph::normal_tag` writes them: its own, its kind's name, and
/// the cautions of its kind and of kinds that a tag names.
std::vector<std::string> tags_of(const build::Job& job);
std::vector<std::string> tags_of(const build::Removal& removal);

}  // namespace fettlefund::trade
