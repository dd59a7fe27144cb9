#include "lib/sheets/xlsx/archive.hpp"

#include <algorithm>
#include <cctype>
#include <fstream>

#include "lib/text/ascii.hpp"

#include <fmt/format.h>
#include <zip.h>

namespace fettlefund::sheets {
namespace {

zip_t* opened(const std::string& bytes) {
  zip_error_t fault;
  zip_error_init(&fault);
  zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &fault);
  zip_t* archive = source ? zip_open_from_source(source, ZIP_RDONLY | ZIP_CHECKCONS, &fault) : nullptr;
  if (!archive && source) zip_source_free(source);
  const std::string why = archive ? "" : zip_error_strerror(&fault);
  zip_error_fini(&fault);
  if (!archive) throw Unreadable("it is no xlsx workbook, or damaged (" + why + ")");
  return archive;
}

struct Close {
  void operator()(zip_file_t* file) const { zip_fclose(file); }
};

}  // namespace

Archive::Archive(std::string bytes) : bytes_(std::move(bytes)) {
  if (bytes_.size() > most_file_bytes) throw Unreadable("it is larger than 16 MiB");
  archive_ = opened(bytes_);
  try {
    index();
  } catch (...) {
    zip_discard(archive_);
    throw;
  }
}

Archive::~Archive() { zip_discard(archive_); }

void Archive::index() {
  const zip_int64_t count = zip_get_num_entries(archive_, 0);
  if (count < 0 || static_cast<std::size_t>(count) > most_parts) throw Unreadable("it has too many parts");
  std::size_t all = 0;
  for (zip_int64_t i = 0; i < count; ++i) {
    zip_stat_t entry;
    zip_stat_init(&entry);
    const bool told = zip_stat_index(archive_, static_cast<zip_uint64_t>(i), 0, &entry) == 0 &&
                      (entry.valid & ZIP_STAT_NAME) != 0 && (entry.valid & ZIP_STAT_SIZE) != 0;
    if (!told) throw Unreadable("its list of parts is damaged");
    if (entry.size > most_part_bytes || (all += entry.size) > most_all_bytes)
      throw Unreadable(fmt::format("its part {} would be too large unpacked", entry.name));
    if (!parts_.emplace(text::lower(entry.name), static_cast<std::size_t>(i)).second)
      throw Unreadable(fmt::format("it has two parts named {}", entry.name));
  }
}

std::optional<std::string> Archive::part(const std::string& name) const {
  const auto found = parts_.find(text::lower(name));
  if (found == parts_.end()) return std::nullopt;
  zip_stat_t entry;
  zip_stat_init(&entry);
  zip_stat_index(archive_, found->second, 0, &entry);
  const std::unique_ptr<zip_file_t, Close> file(zip_fopen_index(archive_, found->second, 0));
  if (!file) throw Unreadable(fmt::format("its part {} is damaged or encrypted", name));
  std::string text(entry.size, '\0');
  const bool whole = zip_fread(file.get(), text.data(), entry.size) == static_cast<zip_int64_t>(entry.size);
  char beyond = 0;  // the checksum is compared at the end only
  if (!whole || zip_fread(file.get(), &beyond, 1) != 0)
    throw Unreadable(fmt::format("its part {} is damaged", name));
  return text;
}

std::string file_bytes(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw Unreadable("it cannot be opened");
  std::string bytes, block(1 << 16, '\0');
  while (bytes.size() <= most_file_bytes &&
         in.read(block.data(), static_cast<std::streamsize>(block.size())).gcount() > 0)
    bytes.append(block, 0, static_cast<std::size_t>(in.gcount()));
  if (in.bad()) throw Unreadable("it cannot be read");
  return bytes;
}

}  // namespace fettlefund::sheets
