#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "lib/text/nearest.hpp"

namespace fettlefund::build {

struct Key {
  std::string_view name;
  bool required = false;
};

/// The parts of a build file: each is an object with keys of its own.
enum class Part {
  build,
  money,
  paydays,
  extra,
  bench,
  bench_exception,
  session,
  supplier,
  article,
  offer,
  price,
  lead,
  borrow,
  on_hand,
  use,
  removal,
  job,
  torque,
  check,
  step,
  fitted,
  clash,
  rule,
  silence,
  drive,
  drive_end,
  chain,
  centre,
  wanted
};

/// The keys that a part may and must have. The schema names its definition of the part `name`.
struct KeyTable {
  std::string_view name;
  std::string_view called;  ///< in words, "a job"
  std::vector<Key> keys;
  text::Names names;
  std::string listed;  ///< "a key of a use: amount, article"

  KeyTable(std::string_view part, std::string_view in_words, std::vector<Key> its_keys);
};

/// The key of the table that people mean by another word ("remove" in a job: "removals"), or empty.
std::string_view meant_by(const KeyTable& table, std::string_view word);

/// One table a part, in the order of Part.
const std::vector<KeyTable>& key_tables();

inline const KeyTable& keys_of(Part part) { return key_tables()[static_cast<std::size_t>(part)]; }

}  // namespace fettlefund::build
