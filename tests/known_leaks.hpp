#pragma once

/// What the leak checker of a sanitized build leaves out: for one file of a program. libxlsxwriter 1.1.4
/// copies the formula of a list validation twice and frees it once (twelve lines with one
/// worksheet_data_validation_range of LXW_VALIDATION_TYPE_LIST_FORMULA show it); nothing but that library
/// calls its lxw_strdup.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() { return "leak:lxw_strdup\n"; }
