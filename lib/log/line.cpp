#include "lib/log/line.hpp"

#include "lib/build/fingerprint.hpp"
#include "lib/log/checksum.hpp"
#include "lib/log/fields.hpp"
#include "lib/text/nearest.hpp"
#include "lib/text/utf8.hpp"

#include <fmt/format.h>

namespace fettlefund::log {
namespace {

constexpr std::string_view magic = "fettlefund-log", version = "1";
constexpr std::size_t checksum_digits = 8;
constexpr std::size_t id_digits = 16;

std::string field(std::string_view key, std::string_view value) {
  return fmt::format("\t{}={}", key, escaped(value));
}

std::string with_checksum(std::string line) {
  line += '\t';
  return line + checksum(line) + '\n';
}

/// Writes the fields of each kind.
struct Writer {
  const budgets::Currency& currency;

  std::string operator()(const Bought& one) const {
    std::string fields = field("key", one.key) + field("packs", std::to_string(one.packs)) +
                         field("paid", budgets::write_money(one.paid, currency));
    if (one.arrives) fields += field("arrives", budgets::write_date(*one.arrives));
    if (!one.supplier.empty()) fields += field("from", one.supplier);
    if (one.rest > Money()) fields += field("rest", budgets::write_money(one.rest, currency));
    if (one.rest_on) fields += field("rest-on", budgets::write_date(*one.rest_on));
    return fields;
  }
  std::string operator()(const Paid& one) const {
    return field("key", one.key) + field("amount", budgets::write_money(one.amount, currency));
  }
  std::string operator()(const Fitted& one) const {
    return field("job", one.job) + (one.minutes ? field("minutes", std::to_string(*one.minutes)) : "");
  }
  std::string operator()(const Counted& one) const {
    return field("cash", budgets::write_money(one.cash, currency));
  }
  std::string operator()(const AgreedPlan& one) const {
    std::string jobs;
    for (const build::Agreed& agreed : one.jobs) {
      jobs += fmt::format("{}{}:{}", jobs.empty() ? "" : ",", agreed.job, budgets::write_date(agreed.bench));
    }
    return field("jobs", jobs);
  }
  std::string operator()(const Remark& one) const {
    return (one.about.empty() ? "" : field("about", one.about)) + field("text", one.text);
  }
  std::string operator()(const Balance& one) const {
    return field("key", one.key) + field("amount", budgets::write_money(one.amount, currency));
  }
  std::string operator()(const Gone& one) const {
    return field("article", one.article) + field("packs", std::to_string(one.packs)) + field("how", one.how) +
           (one.back > Money() ? field("back", budgets::write_money(one.back, currency)) : "") +
           (one.key.empty() ? "" : field("key", one.key));
  }
  std::string operator()(const Begun& one) const {
    return field("job", one.job) + field("minutes", std::to_string(one.minutes)) +
           (one.rest ? field("rest", std::to_string(*one.rest)) : "");
  }
  std::string operator()(const GivenUp& one) const { return field("job", one.job); }
  std::string operator()(const Arrives& one) const {
    return field("key", one.key) + field("on", budgets::write_date(one.on));
  }
  std::string operator()(const Undo& one) const { return field("entry", std::to_string(one.entry)); }
  std::string operator()(const Moved& one) const {
    return field("amount", budgets::write_money(one.amount, currency)) + field("text", one.text);
  }
};

std::optional<build::Agreed> read_agreed(std::string_view item) {
  const std::size_t colon = item.find(':');
  if (colon == std::string_view::npos || colon == 0) return std::nullopt;
  const auto bench = budgets::read_date(item.substr(colon + 1));
  if (!bench) return std::nullopt;
  return build::Agreed{std::string(item.substr(0, colon)), *bench};
}

AgreedPlan read_agreed_plan(FieldTaker& fields) {
  AgreedPlan plan;
  const auto jobs = fields.maybe_text("jobs");  // its absence is told by `text` below
  if (!jobs) {
    fields.text("jobs");
    return plan;
  }
  for (std::size_t begin = 0; begin <= jobs->size();) {
    const std::size_t end = std::min(jobs->find(',', begin), jobs->size());
    const auto agreed = read_agreed(std::string_view(*jobs).substr(begin, end - begin));
    if (!agreed) {
      fields.refuse("jobs", "a list like job:2026-03-28,other-job:2026-04-25");
      break;
    }
    plan.jobs.push_back(*agreed);
    begin = end + 1;
  }
  return plan;
}

const std::vector<std::string>& kinds() {
  static const std::vector<std::string> all{"agreed",  "arrives", "balance",  "begun", "bought",
                                            "counted", "fitted",  "given-up", "gone",  "money",
                                            "paid",    "remark",  "undo"};
  return all;
}

/// Kinds that name a key.
Event read_keyed(std::string_view kind, FieldTaker& fields, const budgets::Currency& currency) {
  const std::string key = fields.text("key");
  if (kind == "paid") return Paid{key, fields.money("amount", currency)};
  if (kind == "balance") return Balance{key, fields.money("amount", currency)};
  if (kind == "arrives") {
    const auto on = fields.maybe_date("on");
    if (!on) fields.text("on");
    return Arrives{key, on.value_or(Date{})};
  }
  const std::int64_t packs = fields.whole("packs", 1, most_packs);
  const Money paid = fields.money("paid", currency);
  const auto arrives = fields.maybe_date("arrives");
  const std::string from = fields.maybe_text("from").value_or("");
  const Money rest = fields.maybe_money("rest", currency).value_or(Money());
  return Bought{key, packs, paid, arrives, from, rest, fields.maybe_date("rest-on")};
}

/// The event of a known kind.
Event read_event(std::string_view kind, FieldTaker& fields, const budgets::Currency& currency) {
  if (kind == "agreed") return read_agreed_plan(fields);
  if (kind == "counted") return Counted{fields.money("cash", currency)};
  if (kind == "fitted") return Fitted{fields.text("job"), fields.maybe_whole("minutes", 0, most_minutes)};
  if (kind == "remark") {
    const std::string about = fields.maybe_text("about").value_or("");
    return Remark{about, fields.text("text")};
  }
  if (kind == "money") {
    const Money amount = fields.money("amount", currency);
    return Moved{amount, fields.text("text")};
  }
  if (kind == "undo") return Undo{fields.whole("entry", 1, static_cast<std::int64_t>(1) << 40)};
  if (kind == "begun") {
    const std::string job = fields.text("job");
    const std::int64_t minutes = fields.whole("minutes", 0, most_minutes);
    return Begun{job, minutes, fields.maybe_whole("rest", 0, most_minutes)};
  }
  if (kind == "given-up") return GivenUp{fields.text("job")};
  if (kind == "gone") {
    const std::string article = fields.text("article");
    const std::int64_t packs = fields.whole("packs", 1, most_packs);
    const std::string how = fields.text("how");
    const Money back = fields.maybe_money("back", currency).value_or(Money());
    return Gone{article, packs, how, back, fields.maybe_text("key").value_or("")};
  }
  return read_keyed(kind, fields, currency);
}

/// Day, kind and fields.
std::string told(const Entry& entry, const budgets::Currency& currency) {
  return fmt::format("{}\t{}", budgets::write_date(entry.date), kind_of(entry.event)) +
         std::visit(Writer{currency}, entry.event);
}

bool is_line_id(std::string_view text) {
  return text.size() == id_digits && text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

/// The ids of a line, and of lines that told the same.
void read_ids(FieldTaker& taker, Entry& entry) {
  constexpr const char* words = "sixteen hexadecimal digits";
  entry.id = taker.maybe_text("line").value_or("");
  if (!entry.id.empty() && !is_line_id(entry.id)) taker.refuse("line", words);
  const std::string also = taker.maybe_text("also").value_or("");
  for (std::size_t begin = 0; begin < also.size();) {
    const std::size_t end = std::min(also.find(',', begin), also.size());
    entry.also.push_back(also.substr(begin, end - begin));
    if (!is_line_id(entry.also.back())) taker.refuse("also", std::string(words) + ", with commas between");
    begin = end + 1;
  }
}

Fault fault_at(const Field& field, std::string expected, std::string nearest = {}) {
  return {field.at, text::shortened(field.text, shown_bytes), std::move(expected), std::move(nearest)};
}

}  // namespace

std::string header_line(const Log& log) {
  return with_checksum(fmt::format("{}\t{}", magic, version) + field("build", log.build_name) +
                       field("id", log.id) + field("currency", log.currency.code));
}

std::string entry_line(const Entry& entry, const budgets::Currency& currency) {
  return with_checksum(
      std::to_string(entry.number) + '\t' + told(entry, currency) +
      (entry.brought ? field("brought", budgets::write_money(*entry.brought, currency)) : "") +
      (entry.purse_brought ? field("purse-brought", budgets::write_money(*entry.purse_brought, currency))
                           : "") +
      (entry.by.empty() ? "" : field("by", entry.by)) + (entry.id.empty() ? "" : field("line", entry.id)) +
      (entry.also.empty() ? "" : field("also", fmt::format("{}", fmt::join(entry.also, ",")))));
}

std::string line_id(const std::string& last, const std::string& salt, const Entry& entry,
                    const budgets::Currency& currency) {
  build::Fingerprint print;
  for (const std::string& part : {last, salt, told(entry, currency)}) print.add(part);
  return print.write();
}

std::optional<std::vector<Field>> sound_fields(std::string_view line) {
  if (line.size() <= checksum_digits || line[line.size() - checksum_digits - 1] != '\t') return std::nullopt;
  const std::string_view before = line.substr(0, line.size() - checksum_digits);
  if (checksum(before) != line.substr(before.size())) return std::nullopt;
  std::vector<Field> fields;
  for (std::size_t begin = 0; begin < before.size();) {
    const std::size_t end = before.find('\t', begin);
    fields.push_back({before.substr(begin, end - begin), begin});
    begin = end + 1;
  }
  return fields;
}

std::optional<Fault> read_header(const std::vector<Field>& fields, Log& log) {
  if (fields.empty() || fields[0].text != magic) {
    return Fault{0, fields.empty() ? "" : text::shortened(fields[0].text, shown_bytes), std::string(magic),
                 ""};
  }
  if (fields.size() < 2 || fields[1].text != version) {
    return fields.size() < 2 ? Fault{0, "", "the format's version, 1", ""}
                             : fault_at(fields[1], "the format's version, 1");
  }
  FieldTaker taker(fields, 2);
  log.build_name = taker.text("build");
  log.id = taker.text("id");
  const std::string code = taker.text("currency");
  const auto currency = budgets::find_currency(code);
  if (currency) {
    log.currency = *currency;
  } else {
    taker.refuse("currency", "an ISO 4217 code", std::string(budgets::nearest_currency(code)));
  }
  return taker.finish();
}

std::optional<Fault> read_entry(const std::vector<Field>& fields, std::int64_t number,
                                const budgets::Currency& currency, Entry& entry) {
  if (fields.size() < 3) return Fault{0, "", "a number, a day and a kind, separated by tabs", ""};
  if (fields[0].text != std::to_string(number))
    return fault_at(fields[0], fmt::format("the number {}", number));
  const auto date = budgets::read_date(fields[1].text);
  if (!date) return fault_at(fields[1], "a day like 2026-03-27");
  const text::Names known(kinds());
  if (!known.has(fields[2].text)) {
    return fault_at(fields[2], fmt::format("one of {}", fmt::join(kinds(), ", ")),
                    text::nearest_name(fields[2].text, known));
  }
  FieldTaker taker(fields, 3);
  entry = {number, *date, read_event(fields[2].text, taker, currency)};
  entry.brought = taker.maybe_money("brought", currency);
  entry.purse_brought = taker.maybe_money("purse-brought", currency);
  entry.by = taker.maybe_text("by").value_or("");
  if (std::string why = fault_of_name(entry.by); !why.empty()) taker.refuse("by", why);
  read_ids(taker, entry);
  if (auto fault = taker.finish()) return fault;
  if (std::string why = fault_of(entry.event); !why.empty()) return fault_at(fields[2], why);
  return std::nullopt;
}

}  // namespace fettlefund::log
