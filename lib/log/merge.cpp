#include "lib/log/merge.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <set>
#include <stdexcept>

#include "lib/build/fingerprint.hpp"
#include "lib/log/checksum.hpp"
#include "lib/log/line.hpp"
#include "lib/log/matter.hpp"

namespace fettlefund::log {
namespace {

constexpr std::size_t none = static_cast<std::size_t>(-1);

/// A line of the merged record and where it came from.
struct Node {
  Entry entry;
  std::size_t target = none;         ///< of an undo
  std::size_t at[2] = {none, none};  ///< its index in each record
  std::vector<std::size_t> after;    ///< lines that stand before it
  bool shared() const { return at[0] != none && at[1] != none; }
};

class Merger {
 public:
  Merger(const Log& mine, const Log& theirs) : logs_{&mine, &theirs} {
    if (mine.currency.code != theirs.currency.code)
      throw std::invalid_argument("amounts in " + std::string(theirs.currency.code) + ", not in " +
                                  std::string(mine.currency.code));
    for (const int side : {0, 1}) effective_[side] = effective(*logs_[side]);
    add(0);
    add(1);
    pair();
    chain();
  }

  Merged merge(std::optional<Keep> keep) {
    Merged merged;
    const auto conflicts = find_conflicts();
    for (const auto& [a, b] : conflicts) merged.conflicts.push_back(conflict(a, b));
    const bool stuck = std::any_of(merged.conflicts.begin(), merged.conflicts.end(),
                                   [](const Conflict& one) { return !one.open; });
    if (!conflicts.empty() && (!keep || stuck)) return merged;
    if (keep && *keep != Keep::both) take_back(conflicts, *keep == Keep::mine ? 1 : 0);
    write(merged);
    return merged;
  }

 private:
  const Entry& entry(int side, std::size_t i) const { return logs_[side]->entries[i]; }

  /// Day, kind and fields; of an undo only what it undoes.
  std::string content(const Node& node) const {
    if (node.target != none) return "undo " + std::to_string(node.target);
    Entry bare = node.entry;
    bare.number = 0;
    bare.brought.reset();
    bare.purse_brought.reset();
    bare.id.clear();
    bare.also.clear();
    bare.by.clear();  // two who tell the same tell one thing
    return entry_line(bare, logs_[0]->currency);
  }

  /// The lines of one record, with those of the other that have the same id as one.
  void add(int side) {
    const std::vector<Entry>& entries = logs_[side]->entries;
    for (std::size_t i = 0; i < entries.size(); ++i) {
      Node fresh{entries[i], none, {none, none}, {}};
      if (const auto* undo = std::get_if<Undo>(&entries[i].event))
        fresh.target = node_[side][static_cast<std::size_t>(undo->entry) - 1];
      fresh.at[side] = i;
      node_[side].push_back(known(fresh, side));
    }
  }

  /// Which line of the other record it is, or itself as a further one.
  std::size_t known(const Node& fresh, int side) {
    std::vector<std::string> ids = fresh.entry.also;
    ids.push_back(fresh.entry.id);
    for (const std::string& id : ids) {
      const auto found = by_id_.find(id);
      if (found == by_id_.end() || nodes_[found->second].at[side] != none) continue;
      Node& there = nodes_[found->second];
      if (content(there) != content(fresh))
        throw std::invalid_argument("line " + place(0, there.at[0]) + " and line " + place(1, fresh.at[1]) +
                                    " have one id and tell two things");
      unite(there, fresh, side);
      for (const std::string& other : ids) by_id_.emplace(other, found->second);
      return found->second;
    }
    for (const std::string& id : ids) by_id_.emplace(id, nodes_.size());
    nodes_.push_back(fresh);
    return nodes_.size() - 1;
  }

  std::string place(int side, std::size_t i) const { return logs_[side]->file + ":" + std::to_string(i + 2); }

  /// One line for two: the smaller id leads, so that it does not matter which record is whose.
  static void unite(Node& one, const Node& other, int side) {
    one.at[side] = other.at[side];
    std::set<std::string> ids{one.entry.id, other.entry.id};
    ids.insert(one.entry.also.begin(), one.entry.also.end());
    ids.insert(other.entry.also.begin(), other.entry.also.end());
    if (other.entry.id < one.entry.id) {
      one.entry.date = other.entry.date;  // of an undo it may be another
      one.entry.brought = other.entry.brought;
      one.entry.purse_brought = other.entry.purse_brought;
      if (!other.entry.by.empty()) one.entry.by = other.entry.by;
    }
    if (one.entry.by.empty()) one.entry.by = other.entry.by;
    one.entry.id = *ids.begin();
    one.entry.also.assign(std::next(ids.begin()), ids.end());
  }

  /// Whether the line counts in every record that has it, and only one has it.
  bool counts_for(std::size_t n, int side) const {
    const Node& node = nodes_[n];
    return node.at[side] != none && node.at[1 - side] == none &&
           (effective_[side][node.at[side]] || node.target != none);
  }

  std::vector<std::size_t> own(int side) const {
    std::vector<std::size_t> all;
    for (std::size_t n = 0; n < nodes_.size(); ++n) {
      if (counts_for(n, side)) all.push_back(n);
    }
    return all;
  }

  /// Lines of both that tell the same become one.
  void pair() {
    std::map<std::string, std::vector<std::size_t>> theirs;
    for (const std::size_t n : own(1)) theirs[content(nodes_[n])].push_back(n);
    for (const std::size_t n : own(0)) {
      if (may_repeat(nodes_[n].entry.event)) continue;
      auto found = theirs.find(content(nodes_[n]));
      if (found == theirs.end() || found->second.empty()) continue;
      const std::size_t other = found->second.front();
      found->second.erase(found->second.begin());
      unite(nodes_[n], nodes_[other], 1);
      node_[1][nodes_[other].at[1]] = n;
      nodes_[other].at[1] = none;  // it stands nowhere any more
      ++paired_;
    }
  }

  void chain() {
    for (const int side : {0, 1}) {
      for (std::size_t i = 1; i < node_[side].size(); ++i)
        nodes_[node_[side][i]].after.push_back(node_[side][i - 1]);
    }
  }

  /// The purchase or correction that an undo takes back, or the event itself.
  const Event& matter(const Node& node) const {
    return node.target == none ? node.entry.event : nodes_[node.target].entry.event;
  }

  std::string about(const Node& node) const {
    return subject_of(node.target == none ? node.entry : nodes_[node.target].entry);
  }

  bool clash(const Node& a, const Node& b) const {
    const bool a_undoes = a.target != none, b_undoes = b.target != none;
    if (!a_undoes && !b_undoes) return one_matter(a.entry, b.entry);
    if (a_undoes && b_undoes)
      return a.target != b.target && one_matter(nodes_[a.target].entry, nodes_[b.target].entry);
    const Node& undo = a_undoes ? a : b;
    const Node& other = a_undoes ? b : a;
    const std::string key = key_of(matter(undo));
    return !key.empty() && !std::holds_alternative<Bought>(other.entry.event) &&
           key_of(other.entry.event) == key;
  }

  /// An undo of a line that only its own record has takes back nothing of the other's.
  bool own_business(std::size_t n) const {
    const std::size_t target = nodes_[n].target;
    return target != none && !nodes_[target].shared();
  }

  std::vector<std::pair<std::size_t, std::size_t>> find_conflicts() const {
    std::map<std::string, std::vector<std::size_t>> theirs;
    for (const std::size_t b : own(1)) {
      if (!own_business(b)) theirs[about(nodes_[b])].push_back(b);
    }
    std::vector<std::pair<std::size_t, std::size_t>> found;
    for (const std::size_t a : own(0)) {
      const auto there = theirs.find(about(nodes_[a]));
      if (there == theirs.end() || own_business(a)) continue;
      for (const std::size_t b : there->second) {
        if (clash(nodes_[a], nodes_[b])) found.emplace_back(a, b);
      }
    }
    return found;
  }

  Conflict conflict(std::size_t a, std::size_t b) const {
    const auto told = [&](int side, std::size_t n) {
      const std::size_t i = nodes_[n].at[side];
      return Told{logs_[side]->file, static_cast<int>(i) + 2, entry(side, i).date, entry(side, i).event};
    };
    return {told(0, a), told(1, b), nodes_[a].target == none && nodes_[b].target == none};
  }

  /// Undoes the lines of one side, with what corrects a purchase that is undone.
  void take_back(const std::vector<std::pair<std::size_t, std::size_t>>& conflicts, int side) {
    std::set<std::size_t> lost;
    std::set<std::string> keys;
    for (const auto& [a, b] : conflicts) {
      const std::size_t n = side == 0 ? a : b;
      lost.insert(n);
      if (const auto* one = std::get_if<Bought>(&nodes_[n].entry.event)) keys.insert(one->key);
    }
    for (const std::size_t n : own(side)) {
      const Event& event = nodes_[n].entry.event;
      const bool corrects = std::holds_alternative<Paid>(event) || std::holds_alternative<Balance>(event) ||
                            std::holds_alternative<Arrives>(event);
      if (corrects && keys.count(key_of(event)) != 0) lost.insert(n);
    }
    for (const std::size_t n : lost) undo(n);
  }

  void undo(std::size_t n) {
    Node fresh;
    fresh.entry.date = nodes_[n].entry.date;
    fresh.entry.event = Undo{};
    fresh.entry.id = build::fingerprint("settled " + nodes_[n].entry.id);
    fresh.target = n;
    settling_.push_back(std::move(fresh));
  }

  struct Rank {
    Date date;
    bool count;
    std::string id;
    std::size_t node;
    bool operator<(const Rank& other) const {
      return std::tie(date, count, id) < std::tie(other.date, other.count, other.id);
    }
  };

  Rank rank(std::size_t n) const {
    const Entry& one = nodes_[n].entry;
    return {one.date, std::holds_alternative<Counted>(one.event), one.id, n};
  }

  /// All lines, each behind those that it stands behind in either record.
  std::vector<std::size_t> ordered() const {
    std::vector<std::size_t> left(nodes_.size(), 0), order;
    std::vector<std::vector<std::size_t>> next(nodes_.size());
    std::set<Rank> ready, waiting;
    for (std::size_t n = 0; n < nodes_.size(); ++n) {
      if (nodes_[n].at[0] == none && nodes_[n].at[1] == none) continue;
      std::set<std::size_t> before(nodes_[n].after.begin(), nodes_[n].after.end());
      left[n] = before.size();
      for (const std::size_t b : before) next[b].push_back(n);
      (left[n] == 0 ? ready : waiting).insert(rank(n));
    }
    std::vector<char> done(nodes_.size(), 0);
    while (!ready.empty() || !waiting.empty()) {
      std::set<Rank>& from = ready.empty() ? waiting : ready;
      auto first = from.begin();
      // Where two records order their lines differently, no undo may come before what it undoes.
      while (ready.empty() && nodes_[first->node].target != none && !done[nodes_[first->node].target])
        ++first;
      const std::size_t n = first->node;
      from.erase(first);
      order.push_back(n);
      done[n] = 1;
      for (const std::size_t after : next[n]) {
        if (--left[after] == 0 && !done[after]) {
          waiting.erase(rank(after));
          ready.insert(rank(after));
        }
      }
    }
    return order;
  }

  void write(Merged& merged) {
    merged.log = *logs_[0];
    merged.log.entries.clear();
    std::vector<std::int64_t> number(nodes_.size(), 0);
    std::set<std::size_t> undone;
    bool moved[2] = {false, false};
    const auto put = [&](const Node& node, std::size_t n) {
      if (node.target != none && !undone.insert(node.target).second) return;
      Entry one = node.entry;
      one.number = static_cast<std::int64_t>(merged.log.entries.size()) + 1;
      if (node.target != none) one.event = Undo{number[node.target]};
      if (n != none) number[n] = one.number;
      for (const int side : {0, 1})
        moved[side] |= node.at[side] != none && static_cast<std::int64_t>(node.at[side]) + 1 != one.number;
      merged.log.entries.push_back(std::move(one));
    };
    for (const std::size_t n : ordered()) put(nodes_[n], n);
    std::sort(settling_.begin(), settling_.end(),
              [](const Node& a, const Node& b) { return a.entry.id < b.entry.id; });
    for (const Node& node : settling_) put(node, none);
    for (const Node& node : nodes_) merged.taken += node.at[0] == none && node.at[1] != none ? 1 : 0;
    merged.same = paired_;
    merged.renumbered = moved[0];
    const bool is_theirs = !moved[1] && merged.log.entries.size() == logs_[1]->entries.size();
    merged.log.id = is_theirs ? logs_[1]->id : moved[0] || moved[1] ? id_of(merged.log) : logs_[0]->id;
  }

  /// Of a log that is neither of the two.
  static std::string id_of(const Log& log) {
    std::string ids;
    for (const Entry& one : log.entries) ids += one.id;
    return checksum(ids);
  }

  const Log* logs_[2];
  std::vector<bool> effective_[2];
  std::vector<Node> nodes_;
  std::vector<std::size_t> node_[2];  ///< of each line of each record
  std::map<std::string, std::size_t> by_id_;
  std::vector<Node> settling_;  ///< undos that settle conflicts
  std::size_t paired_ = 0;
};

}  // namespace

Merged merge(const Log& mine, const Log& theirs, std::optional<Keep> keep) {
  return Merger(mine, theirs).merge(keep);
}

}  // namespace fettlefund::log
