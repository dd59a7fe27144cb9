#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "lib/form/reading/gather.hpp"
#include "lib/form/reading/values.hpp"

/// Single rows of a form.
namespace fettlefund::form {

struct RowPlace {
  const Grid& grid;
  int sheet;
  const GridRow& row;

  At at(const Column& column) const;
};

/// The kind of row that it is, and where its item belongs.
struct Chosen {
  const Variant* variant = nullptr;
  std::vector<std::string> path;
};

class RowReader {
 public:
  RowReader(const Surroundings& around, std::vector<Fault>& faults) : around_(around), faults_(faults) {}

  /// Puts the values of these columns into the object under their keys. Tells what is wrong, missing, or
  /// stands in two columns that mean one key.
  void fill(Piece& object, const RowPlace& place, const std::vector<Use>& uses);

  /// Nothing where the row does not say; that is told, and so is what stands in columns that its kind has no
  /// use for.
  std::optional<Chosen> choose(const RowPlace& place, const std::function<bool(const std::string&)>& is_tool);

 private:
  void fault(At at, std::string found, std::string expected, std::string nearest = {});
  std::optional<Piece> value(const RowPlace& place, const Column& column);
  void tell_missing(const RowPlace& place, const std::vector<Use>& uses, const Use& use);
  std::optional<std::string> word(const RowPlace& place, bool& good);
  const Variant* by_owner(const RowPlace& place, const std::vector<const Variant*>& candidates);
  void tell_unused(const RowPlace& place, const Variant& variant);

  const Surroundings& around_;
  std::vector<Fault>& faults_;
};

}  // namespace fettlefund::form
