// Writes the manual pages and the completions into the folder given; run when the program is built.
#include <filesystem>
#include <fstream>
#include <iostream>

#include "cli/manual/manual.hpp"

int main(int argc, char** argv) {
  using namespace fettlefund::cli;
  if (argc != 2) {
    std::cerr << "fettlefund_pages FOLDER\n";
    return 2;
  }
  std::vector<Page> pages = manual_pages();
  for (Page& page : completion_pages()) pages.push_back(std::move(page));
  for (const Page& page : pages) {
    const std::filesystem::path path = std::filesystem::path(argv[1]) / page.path;
    std::filesystem::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << page.text;
  }
  return 0;
}
