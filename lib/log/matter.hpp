#pragma once
#include <string>

#include "lib/log/entry.hpp"

/// What lines of two records may have in common.
namespace fettlefund::log {

/// The key that a purchase, a correction or a rest is about; empty: it is none of these.
std::string key_of(const Event& event);

/// "thing:seat", "job:sit": lines with different subjects are never one matter.
std::string subject_of(const Entry& entry);

/// Whether the lines of two people may speak of one happening; the same whichever comes first.
bool one_matter(const Entry& a, const Entry& b);

/// Told by both alike, it may all the same have happened twice.
bool may_repeat(const Event& event);

}  // namespace fettlefund::log
