# What `cmake --install` puts where, and the Debian package (cpack -G DEB in the build folder).
include(GNUInstallDirs)

install(TARGETS warmside RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES README.md CHANGELOG.md NOTICE DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)
install(DIRECTORY docs/ DESTINATION ${CMAKE_INSTALL_DOCDIR}/docs)

# The completion script is what the program itself prints.
install(CODE "
  file(MAKE_DIRECTORY \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/share/bash-completion/completions\")
  execute_process(COMMAND \"$<TARGET_FILE:warmside>\" completion
    OUTPUT_FILE \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/share/bash-completion/completions/warmside\"
    COMMAND_ERROR_IS_FATAL ANY)")

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME warmside)
set(CPACK_PACKAGE_CONTACT "the Warmside authors <nobody@localhost>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION misc)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# The zone files are read at run time.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "tzdata, fonts-dejavu-core")
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION
    "room book and daily round for keepers of reptiles and amphibians
 Keeps the records of a room of reptiles and amphibians and a notebook that is
 never changed, works out today's round in an order that carries nothing from
 one animal to another, and says what it noticed and why.")
include(CPack)
