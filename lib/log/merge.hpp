#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "lib/log/entry.hpp"

/// Two records of one build become one.
namespace fettlefund::log {

/// A line of one of the records.
struct Told {
  std::string file;
  int line = 0;  ///< of the file, from 1
  Date date;
  Event event;
};

/// Two lines, one of each record, of which both cannot simply stand.
struct Conflict {
  Told mine, theirs;
  bool open = true;  ///< a choice settles it. False: one takes back what the other goes on with, or each
                     ///< takes back the other's; that is undone by hand first
};

/// What becomes of lines in conflict.
enum class Keep { mine, theirs, both };

struct Merged {
  Log log;  ///< set where there is no conflict, or all were settled
  std::vector<Conflict> conflicts;
  std::size_t taken = 0;    ///< lines of theirs that mine did not have
  std::size_t same = 0;     ///< of theirs, that mine told in other lines: they count once
  bool renumbered = false;  ///< lines of mine have other numbers now
};

/// Both records as one. A line is known by its id. Lines of one side that tell what a line of the other tells
/// (same day, same fields) count once. These are in conflict, where the lines differ and both count:
/// purchases under one key, or of one article on one day or for one amount; corrections or rests of one key;
/// one job fitted twice, or given up and gone on with; two counts of one day; two agreements of one day;
/// things gone, work begun and money moved of one kind and day, even where they tell the same: it may have
/// happened twice; an undo of what the other side corrects.
///
/// `keep` settles conflicts: the lines of the other side are undone, not left out, or both stand. Without it
/// nothing is settled. The order is that of both sides; what neither orders goes by day, a count behind what
/// else is of its day, then by id. So merged(A, B) and merged(B, A) tell the same, in one order, as do
/// merged(A, B, mine) and merged(B, A, theirs), and to merge again what is merged changes nothing. Name and
/// file of the log are those of `mine`.
///
/// std::invalid_argument: the amounts are in two currencies, or one id tells two things.
Merged merge(const Log& mine, const Log& theirs, std::optional<Keep> keep = {});

}  // namespace fettlefund::log
