// Command ownerguide makes one owner guide for each trailer that leaves the
// plant: it reads a build sheet, checks it against the product line, calculates
// the figures of that unit and writes the guide as HTML and PDF.
//
// # Promises
//
// All input is treated as hostile. Each promise is followed by the tests that verify it,
// in this package unless a path says otherwise:
//
//   - no sheet of the corpus in testdata/hostile panics, hangs or gets past its finding; no unit
//     takes more than 256 MiB (peak VmHWM of the built program, asked every 3 ms):
//     TestHostileSheetsAreRefusedByName, TestHugeSheets
//   - sheets have at most 1 MiB, files of a line or of templates 4 MiB, and one entry for each 64
//     bytes; all files of a line or of the templates 16 MiB: TestHugeSheets, TestHostileLines,
//     TestHostileTemplates
//   - text stays text: markup, braces, Markdown or PDF syntax in a sheet never creates an element or
//     attribute in a page: TestHostileTextStaysText, TestTextOfASheetStaysPlain
//   - a changed byte of a record is detected, and a forged record has no effect; a damaged unit is
//     reported and hides no other; a letter once delivered remains valid whatever is done to the
//     folder; verify raises no false alarm during a run: TestEveryChangedByteIsFound,
//     TestForgedRecordsAreRefused in render/record, TestBadUnitsAreNamedAndHideNone,
//     TestVerifyFindsDamage, TestDeliveredLetterHolds, TestVerifyBesideARun
//   - templates contain no program; oversized, deeply nested or cyclic input is refused by name; a
//     style sheet loads nothing and cannot end its element: TestHostileTemplates
//   - nothing from a file, a name, a record or the command line is printed on the terminal with an
//     escape sequence, a line break or a change of direction: TestNothingReachesTheTerminalRaw;
//     and there is no other output: TestScripts
//   - no command writes over a file it reads, into line, templates or a unit's folder, through a
//     link, or over a file that is not as the program wrote it; --force allows only the last:
//     TestNothingOfAUsersIsWrittenOver, TestOnlyDeliverWrites, and render/deliver/rules_test.go
//   - an order export has at most 16 MB, one million cells, 20,000 rows and 500 columns; a workbook
//     expands to at most 64 MB, four million elements nested 32 deep, and 1 MiB in one tag or text;
//     none of the small ones tried takes more than 256 MiB: TestHostileExports, and TestReadCSV,
//     TestUnsoundWorkbooks, TestElementsAreCounted in spec/begin
//   - no guide is made from a line or templates that this program has not proved in their current
//     state; a draft says on every page that it is one: TestProofBeforePrint, TestProofInTheCache,
//     TestEmbeddedIsProved, TestWatch
//   - no link in a folder leads outside it, and no pipe or device blocks the program:
//     TestFoldersWithLinksAndPipes, TestLinksInTheOutputFolderLeadNowhere in render/deliver
//   - a bug triggered by one unit is one error about that unit, with exit code 1; the others are
//     completed: TestPanicIsAboutOneUnit, spec/parallel
//   - a full disk, a read-only or removed folder, concurrent runs, an interruption or a kill at any
//     moment leave complete guides and a clear error: TestDiskFull, TestOutputThatCannotBeWritten,
//     TestOutputFolderRemovedMidRun, TestTwoRunsAtOnce, TestInterruptedRun,
//     TestInterruptedWhileWaiting, TestKilledAtAnyMoment
//   - the output does not depend on clock, file times, time zone, locale or number of processors:
//     TestNoClockOutsideTheCommandLine, TestClockSetBack, TestSameBytesOnEveryMachine
//   - no line or text hangs the program: mends, counts and the solver stop at stated numbers of
//     steps (SolverSteps, CountSteps, maxLooks), which measure work and not time, and the finding or
//     sentence says so: TestHardModels and TestStepsChangeNoAnswer in spec/logic,
//     TestPuzzlesForLines
//   - a page loads nothing and runs only what its policy names by hash:
//     TestPagesKeepToTheirPolicy, and .ci/pages.mjs in a browser
//   - PDFs run and load nothing; every bookmark and link has a target: .ci/papers.py
//   - every reader of input is fuzzed: .ci/fuzz 300x runs every target; crashers stay in testdata/fuzz
//   - the program contains the licence of everything in it: TestLicences
//
// Tests of faults that need a mount require root; otherwise they are skipped by name,
// and fail with CI=true.
package main
