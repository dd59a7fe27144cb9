#include <algorithm>

#include "cli/record/record.hpp"
#include "lib/staging/ids.hpp"

#include <fmt/format.h>

namespace fettlefund::cli {
namespace {

using Batch = std::optional<std::vector<log::NewEntry>>;
using budgets::Money;

template <class Entries>
std::vector<std::string> names_of(const Entries& entries) {
  std::vector<std::string> names;
  for (const auto& entry : entries) names.push_back(entry.id);
  return names;
}

/// What is recorded as bought under the key; none: `err` tells so.
std::optional<planning::Bought> bought_under(const Recording& recording, const std::string& key) {
  const planning::History history = planning::history_of(recording.log, recording.day);
  std::vector<std::string> known;
  for (const planning::Bought& one : history.bought) {
    if (one.key == key) return one;
    known.push_back(one.key);
  }
  recording.unknown(key, "the key of something that is recorded as bought by then", known);
  return std::nullopt;
}

/// The word where it is the key of a purchase; an article's id alone names none.
std::string purchase_named(const Recording& recording, const std::string& word) {
  const planning::History history = planning::history_of(recording.log, recording.day);
  const bool bought = std::any_of(history.bought.begin(), history.bought.end(),
                                  [&](const planning::Bought& one) { return one.key == word; });
  return bought ? word : "";
}

Batch deposit_entries(const Recording& recording) {
  auto batch = bought_entries(recording);
  const auto paid = recording.amount();
  if (!batch || !paid) return std::nullopt;
  auto& bought = std::get<log::Bought>(batch->front().event);
  const RecordRequest& record = recording.request.record;
  const auto rest =
      record.rest_amount.empty() ? std::optional(bought.paid - *paid) : recording.amount(record.rest_amount);
  if (!rest) return std::nullopt;
  if (*rest <= Money()) {
    recording.refuse(
        "nothing is left to be paid; `bought` records what is paid at once, --rest what is left");
    return std::nullopt;
  }
  bought.paid = *paid;
  bought.rest = *rest;
  bought.rest_on = record.rest_on;
  return batch;
}

Batch balance_entries(const Recording& recording) {
  const RecordRequest& record = recording.request.record;
  const auto bought = bought_under(recording, record.what.front());
  if (!bought) return std::nullopt;
  if (bought->rest == Money()) {
    recording.refuse(bought->key + " has nothing left to be paid; `paid` corrects an amount");
    return std::nullopt;
  }
  const auto amount = record.amount.empty() ? std::optional(bought->rest) : recording.amount();
  if (!amount) return std::nullopt;
  return Batch{{{recording.day, log::Balance{bought->key, *amount}, {}}}};
}

Batch refund_entries(const Recording& recording) {
  const auto bought = bought_under(recording, recording.request.record.what.front());
  const auto amount = recording.amount();
  if (!bought || !amount) return std::nullopt;
  if (*amount <= Money()) {
    recording.refuse("the amount is above zero");
    return std::nullopt;
  }
  return Batch{{{recording.day, log::Moved{*amount, "refund for " + bought->key}, {}}}};
}

Batch arrived_entries(const Recording& recording) {
  const auto bought = bought_under(recording, recording.request.record.what.front());
  if (!bought) return std::nullopt;
  if (bought->packs == 0) {
    recording.refuse("nothing is left of " + bought->key + " that could arrive");
    return std::nullopt;
  }
  return Batch{{{recording.day, log::Arrives{bought->key, recording.day}, {}}}};
}

Batch gone_entries(const Recording& recording) {
  const RecordRequest& record = recording.request.record;
  const std::string& word = record.what.front();
  const planning::ShoppingKey key = planning::read_key(word);
  const build::Id id = key.id.empty() ? word : key.id;
  if (planning::find_id(recording.build.articles, id) < 0) {
    recording.unknown(word, "an article of the build", names_of(recording.build.articles));
    return std::nullopt;
  }
  const auto back = record.amount.empty() ? std::optional(Money()) : recording.amount();
  if (!back) return std::nullopt;
  return Batch{
      {{recording.day,
        log::Gone{id, record.packs.value_or(1), record.action, *back, purchase_named(recording, word)},
        {}}}};
}

Batch job_entries(const Recording& recording) {
  const RecordRequest& record = recording.request.record;
  const build::Id& id = record.what.front();
  if (planning::find_id(recording.build.jobs, id) < 0) {
    recording.unknown(id, "a job of the build", names_of(recording.build.jobs));
    return std::nullopt;
  }
  const planning::History history = planning::history_of(recording.log, recording.day);
  const bool done = std::any_of(history.done.begin(), history.done.end(),
                                [&](const planning::Done& one) { return one.job == id; });
  if (done) {
    recording.refuse(id + " is recorded as fitted; undo that entry first");
    return std::nullopt;
  }
  if (record.action == "given-up") return Batch{{{recording.day, log::GivenUp{id}, {}}}};
  return Batch{{{recording.day, log::Begun{id, record.minutes.value_or(0), record.rest}, {}}}};
}

}  // namespace

Batch state_entries(const Recording& recording) {
  const std::string& action = recording.request.record.action;
  if (action == "deposit") return deposit_entries(recording);
  if (action == "balance") return balance_entries(recording);
  if (action == "refund") return refund_entries(recording);
  if (action == "arrived") return arrived_entries(recording);
  if (action == "begun" || action == "given-up") return job_entries(recording);
  return gone_entries(recording);
}

}  // namespace fettlefund::cli
