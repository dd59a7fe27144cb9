# What a user gets: the program, its manual pages and completions, and what makes a desktop open build files with it.
include(GNUInstallDirs)
install(TARGETS fettlefund fettlefund-staging RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT runtime)
# Debian wants manual pages compressed, without a time in them.
install(CODE "
  file(GLOB pages ${FETTLEFUND_PAGES}/man/*.1)
  file(MAKE_DIRECTORY ${CMAKE_BINARY_DIR}/man)
  foreach(page \${pages})
    get_filename_component(name \${page} NAME)
    execute_process(COMMAND gzip -9nc \${page} OUTPUT_FILE ${CMAKE_BINARY_DIR}/man/\${name}.gz)
  endforeach()" COMPONENT runtime)
install(DIRECTORY ${CMAKE_BINARY_DIR}/man/ DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT runtime FILES_MATCHING PATTERN "*.gz")
install(FILES ${FETTLEFUND_PAGES}/completions/bash/fettlefund DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT runtime)
install(FILES ${FETTLEFUND_PAGES}/completions/zsh/_fettlefund DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions COMPONENT runtime)
install(FILES ${FETTLEFUND_PAGES}/completions/fish/fettlefund.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d COMPONENT runtime)
install(FILES ${CMAKE_CURRENT_SOURCE_DIR}/package/desktop/fettlefund.desktop DESTINATION ${CMAKE_INSTALL_DATADIR}/applications COMPONENT runtime)
install(FILES ${CMAKE_CURRENT_SOURCE_DIR}/package/desktop/fettlefund.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/mime/packages COMPONENT runtime)
install(FILES ${CMAKE_SOURCE_DIR}/example-build/outfit.build ${CMAKE_SOURCE_DIR}/example-build/camper.build
              ${CMAKE_SOURCE_DIR}/example-build/outfit-form.xlsx ${CMAKE_SOURCE_DIR}/example-build/camper-form.xlsx
        ${CMAKE_SOURCE_DIR}/README.md ${CMAKE_SOURCE_DIR}/lib/build/BUILD-FILE.md ${CMAKE_SOURCE_DIR}/lib/log/LOG-FILE.md
        ${CMAKE_SOURCE_DIR}/lib/purse/PURSE-FILE.md
        DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT runtime)
install(FILES ${CMAKE_SOURCE_DIR}/lib/exchange/README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME EXCHANGE.md COMPONENT runtime)
