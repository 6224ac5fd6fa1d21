# What `cmake --install` puts under a prefix, and the Debian package that `cpack` makes of it.
include(GNUInstallDirs)
# Installing takes what is built: the tests need not be.
set(CMAKE_SKIP_INSTALL_ALL_DEPENDENCY ON)

install(TARGETS panup RUNTIME)
# The demo scenario is what `panup serve` shows where no folder is named; lines, pantographs and wires
# to start from, the cases of practice and the rule book to read, and the words to translate, beside it.
install(DIRECTORY data/demo data/lines data/pantographs data/practice data/rules data/wires data/words
        DESTINATION ${CMAKE_INSTALL_DATADIR}/panup)
install(FILES README.md CHANGELOG.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)
install(DIRECTORY docs DESTINATION ${CMAKE_INSTALL_DOCDIR} PATTERN renew EXCLUDE PATTERN panup.1 EXCLUDE)
install(FILES docs/panup.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME panup)
set(CPACK_PACKAGE_CONTACT "The panup maintainers <maintainers@panup.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_DESCRIPTION}")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
# The libraries by what the program is linked with; the typeface of card and report is looked up by name.
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS "fonts-inter")
include(CPack)
