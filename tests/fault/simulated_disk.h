#pragma once
// A disk in memory that loses power and breaks on request, for tests of what SQLite stores on it.
//
// `kill -9` proves nothing about durability: the kernel still holds every write. This class plays
// the kernel and the disk. It registers itself as an SQLite VFS, so code under test only needs the
// VFS name. Nothing touches the real disk and one cut costs microseconds, so thousands are cheap.
//
//   SimulatedDisk disk("simdisk-1", {.seed = 7});
//   disk.cut_after(120);         // power fails in the middle of the 120th operation
//   work("book.db", "simdisk-1", &acknowledged);  // opens, commits until SQLITE_IOERR, closes
//   disk.reboot();               // now open again: every acknowledged transaction must be there
//
// What it models. Each file has a durable image and a list of writes and truncations not yet
// synced; a sync moves that list, for that file alone, into the image. At a power cut each listed
// operation is kept, dropped or, if a write, torn: it is split at 512-byte borders and each piece
// is kept, dropped or turned into garbage. So writes reorder freely between two syncs. Each cut
// draws its own chance of keeping (1 in 8 cuts keeps all, 1 in 8 nothing, others anything between).
// A new file may vanish unless it was synced, or its directory was (a delete with directory sync).
// Shared memory (the WAL index), locks, temporary files and open handles die with the power.
// Connections in this process may share files, in WAL and in rollback modes.
//
// What it does not model.
// - A delete is durable at once, and so cannot be undone by a cut.
// - A completed sync never lies and nothing synced ever rots: no reordering across a sync.
// - A torn write harms no byte outside its own range (SQLITE_IOCAP_POWERSAFE_OVERWRITE).
// - One process, one mutex. Sleeping takes no real time: a busy timeout passes at once, so threads
//   that wait for each other should retry. No memory mapping, no file modes.
// - SQLite deletes and probes by name, without a handle. Close dead connections before opening
//   anew; a dead handle itself never touches the new files.
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace warmside::fault {

/// The kinds of call that can be made to fail, with the SQLite code each returns.
enum class Fault {
  write,     ///< SQLITE_IOERR_WRITE; a random first part may be written all the same
  sync,      ///< SQLITE_IOERR_FSYNC; see SimulatedDiskOptions::failed_sync_forgets
  open,      ///< SQLITE_CANTOPEN; attaching the WAL's shared memory counts as an open
  read,      ///< SQLITE_IOERR_READ
  truncate,  ///< SQLITE_IOERR_TRUNCATE; nothing is cut off
  remove,    ///< SQLITE_IOERR_DELETE; the file stays (deleting an absent file is not counted)
  full,      ///< SQLITE_FULL; counts only writes that make a file longer; partial as `write`
};

enum class FailMode {
  once,      ///< only the n-th call fails
  for_ever,  ///< the n-th and all later calls of that kind fail, until clear_faults()
};

/// Chances are common practice, not measurements of a product; range 0..1 (else invalid_argument).
struct SimulatedDiskOptions {
  std::uint64_t seed = 1;       ///< same seed and same calls: same fate of every sector
  double torn_chance = 0.3;     ///< that a lost power tears an unsynced write
  double garbage_chance = 0.1;  ///< that a piece lost from a torn write holds garbage; 0: never
  /// A failed sync settles the unsynced list as a power cut would, yet reads go on showing all of
  /// it: Linux does so after fsync() fails (dirty pages are marked clean). Trying the sync again
  /// then "succeeds" in vain. Off: the list is kept whole and a later sync can still save it.
  bool failed_sync_forgets = false;
};

class SimulatedDisk {
 public:
  /// Registers the VFS. invalid_argument if the name is empty or taken, or options out of range.
  explicit SimulatedDisk(std::string vfs_name, const SimulatedDiskOptions& options = {});
  /// Unregisters. Close all connections first; if any handle is open its memory is leaked instead.
  ~SimulatedDisk();
  SimulatedDisk(const SimulatedDisk&) = delete;
  SimulatedDisk& operator=(const SimulatedDisk&) = delete;

  const std::string& vfs_name() const;
  /// Makes SQLite's own random numbers (WAL salts) follow the seed, for byte-equal images.
  /// Process-wide, and stays in force; call before each run that is to be repeated.
  void seed_sqlite();

  /// Cuts the power now and restores it: old handles are dead, new ones see what survived.
  void power_cut();
  /// Cuts in the middle of the n-th write, sync or truncation from now (1 = the next one). That
  /// call and all later ones return SQLITE_IOERR until reboot(). 0 cancels.
  void cut_after(std::uint64_t n);
  /// Restores power after a scheduled cut; cancels one still to come. Old handles stay dead.
  void reboot();
  /// False from the moment a scheduled cut strikes until reboot().
  bool powered() const;
  /// Writes, syncs and truncations met so far, failed ones included. A run without a cut learns
  /// the total; cut_after() of every number up to it visits every point.
  std::uint64_t operations() const;

  /// The n-th call of this kind from now fails (1 = the next one). One fault per kind; several
  /// kinds may be armed together. Stays armed over a power cut. n = 0 disarms this kind.
  void fail_nth(Fault fault, std::uint64_t n, FailMode mode);
  /// Whether any fault struck since the last fail_nth(): a counting loop ends when it did not.
  bool fault_hit() const;
  /// Disarms all faults; fault_hit() keeps its answer.
  void clear_faults();

  /// Content as a process sees it (unsynced writes included); nullopt when there is no such file.
  std::optional<std::string> read_file(std::string_view name) const;
  /// Puts a file there, durable at once. Handles already open keep the file they had.
  void write_file(std::string_view name, std::string_view bytes);
  /// Absolute names in order, without temporary files. "book.db" means "/book.db" everywhere.
  std::vector<std::string> list() const;

  class State;  ///< the body, in the .cpp file

 private:
  std::unique_ptr<State> state_;
};

}  // namespace warmside::fault
