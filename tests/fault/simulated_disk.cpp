#include "simulated_disk.h"

#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <map>
#include <mutex>
#include <random>
#include <stdexcept>
#include <utility>

namespace warmside::fault {
namespace {

constexpr std::size_t kSectorBytes = 512;
constexpr std::size_t kFaultKinds = 7;
// 2024-01-01 00:00 UTC as SQLite counts: Julian day 2460310.5 in milliseconds.
constexpr sqlite3_int64 kFirstInstant_ms = 212570827200000;

struct Handle;

struct Operation {
  bool is_truncation = false;
  std::size_t offset = 0;  // of a write; for a truncation the new size
  std::string bytes;
};

// The WAL index shared by all connections to one file. Lives as long as one of them is attached.
struct SharedMemory {
  std::vector<std::unique_ptr<std::uint64_t[]>> regions;  // 8-byte words: SQLite wants alignment
  std::vector<Handle*> users;
};

struct File {
  std::string seen;     // what processes read
  std::string durable;  // what a power cut cannot take
  std::vector<Operation> unsynced;
  bool name_durable = false;
  bool temporary = false;
  std::vector<Handle*> handles;
  std::weak_ptr<SharedMemory> shared_memory;
};

struct Handle {
  SimulatedDisk::State* disk = nullptr;
  std::shared_ptr<File> file;
  std::string name;  // empty for a temporary file
  std::uint64_t boot = 0;
  int lock = SQLITE_LOCK_NONE;
  bool read_only = false;
  bool delete_on_close = false;
  std::shared_ptr<SharedMemory> shared_memory;
  unsigned shared_slots = 0;  // bit i: slot i of the WAL index held in this way
  unsigned exclusive_slots = 0;
};

struct SqliteFile {
  sqlite3_file base;  // first: SQLite hands back a pointer to it
  Handle* handle;
};

void apply_to_image(const Operation& operation, std::string& image) {
  if (operation.is_truncation) {
    image.resize(operation.offset, '\0');
    return;
  }
  const std::size_t end = operation.offset + operation.bytes.size();
  if (image.size() < end) image.resize(end, '\0');
  image.replace(operation.offset, operation.bytes.size(), operation.bytes);
}

// Bytes from `offset` to the next sector border, at most `size`.
std::size_t piece_size(std::size_t offset, std::size_t size) {
  return std::min(size, kSectorBytes - offset % kSectorBytes);
}

std::string absolute(std::string_view name) {
  std::string path(name);
  if (path.empty() || path.front() != '/') path.insert(path.begin(), '/');
  return path;
}

std::string_view directory_of(std::string_view path) {
  return path.substr(0, path.rfind('/'));
}

void remove_handle(std::vector<Handle*>& handles, const Handle* handle) {
  handles.erase(std::remove(handles.begin(), handles.end(), handle), handles.end());
}

extern const sqlite3_io_methods kFileMethods;

}  // namespace

class SimulatedDisk::State {
 public:
  struct ArmedFault {
    std::uint64_t calls_left = 0;  // 0: not armed, or struck once
    FailMode mode = FailMode::once;
    bool broken = false;  // struck, and every later call fails as well
  };

  State(std::string name, const SimulatedDiskOptions& chosen)
      : vfs_name(std::move(name)), options(chosen), random(chosen.seed) {}

  bool alive(const Handle& handle) const { return powered && handle.boot == boot; }

  std::size_t below(std::size_t limit) { return static_cast<std::size_t>(random() % limit); }
  double uniform() { return static_cast<double>(random() >> 11) * 0x1.0p-53; }
  bool chance(double probability) { return uniform() < probability; }

  // Counts one write, sync or truncation; true when the scheduled cut falls on it.
  bool counted_operation_is_cut() {
    ++operations;
    return cut_in > 0 && --cut_in == 0;
  }

  bool fails(Fault kind) {
    ArmedFault& fault = faults[static_cast<std::size_t>(kind)];
    const bool is_nth = fault.calls_left > 0 && --fault.calls_left == 0;
    if (is_nth) fault.broken = fault.mode == FailMode::for_ever;
    const bool strikes = is_nth || fault.broken;
    fault_hit = fault_hit || strikes;
    return strikes;
  }

  void perform(File& file, Operation operation) {
    apply_to_image(operation, file.seen);
    if (!file.temporary) file.unsynced.push_back(std::move(operation));
  }

  // What a failing write leaves behind: any number of its first sectors, as after a short write().
  void perform_part(File& file, Operation operation) {
    const std::size_t sectors = operation.bytes.size() / kSectorBytes + 1;
    const std::size_t size = std::min(operation.bytes.size(), below(sectors + 1) * kSectorBytes);
    if (size == 0) return;
    operation.bytes.resize(size);
    perform(file, std::move(operation));
  }

  void tear(const Operation& write, double keep, std::string& image) {
    for (std::size_t at = 0; at < write.bytes.size();) {
      const std::size_t offset = write.offset + at;
      const std::size_t size = piece_size(offset, write.bytes.size() - at);
      Operation piece{false, offset, write.bytes.substr(at, size)};
      at += size;
      if (!chance(keep)) {
        if (!chance(options.garbage_chance)) continue;
        for (char& byte : piece.bytes) byte = static_cast<char>(random() & 0xff);
      }
      apply_to_image(piece, image);
    }
  }

  double draw_keep_chance() {
    switch (below(8)) {
      case 0:
        return 0.0;
      case 1:
        return 1.0;
      default:
        return uniform();
    }
  }

  // Decides what the medium holds of the unsynced list, and forgets the list.
  void settle(File& file, double keep) {
    for (const Operation& operation : file.unsynced) {
      if (!operation.is_truncation && chance(options.torn_chance)) {
        tear(operation, keep, file.durable);
      } else if (chance(keep)) {
        apply_to_image(operation, file.durable);
      }
    }
    file.unsynced.clear();
  }

  // Survivors become new File objects: dead handles keep the old ones with their locks.
  void lose_power() {
    const double keep = draw_keep_chance();
    std::map<std::string, std::shared_ptr<File>> survivors;
    for (auto& [name, file] : files) {
      if (file->temporary || (!file->name_durable && !chance(keep))) continue;
      settle(*file, keep);
      auto survivor = std::make_shared<File>();
      survivor->seen = file->durable;
      survivor->durable = std::move(file->durable);
      survivor->name_durable = true;
      survivors.emplace(name, std::move(survivor));
    }
    files = std::move(survivors);
    powered = false;
    ++boot;
    cut_in = 0;
  }

  int open(const char* raw_name, sqlite3_file* out, int flags, int* out_flags) {
    if (!powered) return SQLITE_IOERR;
    if (fails(Fault::open)) return SQLITE_CANTOPEN;
    auto handle = std::make_unique<Handle>();
    if (raw_name == nullptr) {
      handle->file = std::make_shared<File>();
      handle->file->temporary = true;
    } else {
      handle->name = absolute(raw_name);
      const auto found = files.find(handle->name);
      if (found == files.end()) {
        if ((flags & SQLITE_OPEN_CREATE) == 0) return SQLITE_CANTOPEN;
        handle->file = files.emplace(handle->name, std::make_shared<File>()).first->second;
        handle->file->temporary = (flags & SQLITE_OPEN_DELETEONCLOSE) != 0;
      } else {
        if ((flags & SQLITE_OPEN_EXCLUSIVE) != 0) return SQLITE_CANTOPEN;
        handle->file = found->second;
      }
    }
    handle->disk = this;
    handle->boot = boot;
    handle->read_only = (flags & SQLITE_OPEN_READONLY) != 0;
    handle->delete_on_close = (flags & SQLITE_OPEN_DELETEONCLOSE) != 0;
    handle->file->handles.push_back(handle.get());
    ++open_handles;
    if (out_flags != nullptr) *out_flags = flags;
    reinterpret_cast<SqliteFile*>(out)->handle = handle.release();
    out->pMethods = &kFileMethods;
    return SQLITE_OK;
  }

  void close(Handle* raw) {
    const std::unique_ptr<Handle> handle(raw);
    detach_shared_memory(*handle);
    remove_handle(handle->file->handles, raw);
    if (handle->delete_on_close && alive(*handle)) {
      const auto found = files.find(handle->name);
      if (found != files.end() && found->second == handle->file) files.erase(found);
    }
    --open_handles;
  }

  int read(Handle& handle, void* out, std::size_t size, std::size_t offset) {
    if (fails(Fault::read)) return SQLITE_IOERR_READ;
    const std::string& seen = handle.file->seen;
    const std::size_t available = offset < seen.size() ? std::min(size, seen.size() - offset) : 0;
    if (available > 0) std::memcpy(out, seen.data() + offset, available);
    if (available == size) return SQLITE_OK;
    std::memset(static_cast<char*>(out) + available, 0, size - available);
    return SQLITE_IOERR_SHORT_READ;
  }

  int write(Handle& handle, Operation operation) {
    if (handle.read_only) return SQLITE_READONLY;
    File& file = *handle.file;
    if (counted_operation_is_cut()) {
      perform(file, std::move(operation));  // on its way when the power fails
      lose_power();
      return SQLITE_IOERR;
    }
    if (fails(Fault::write)) {
      perform_part(file, std::move(operation));
      return SQLITE_IOERR_WRITE;
    }
    if (operation.offset + operation.bytes.size() > file.seen.size() && fails(Fault::full)) {
      perform_part(file, std::move(operation));
      return SQLITE_FULL;
    }
    perform(file, std::move(operation));
    return SQLITE_OK;
  }

  int truncate(Handle& handle, std::size_t size) {
    if (handle.read_only) return SQLITE_READONLY;
    if (counted_operation_is_cut()) {
      perform(*handle.file, {true, size, {}});
      lose_power();
      return SQLITE_IOERR;
    }
    if (fails(Fault::truncate)) return SQLITE_IOERR_TRUNCATE;
    perform(*handle.file, {true, size, {}});
    return SQLITE_OK;
  }

  int sync(Handle& handle) {
    File& file = *handle.file;
    if (counted_operation_is_cut()) {
      lose_power();
      return SQLITE_IOERR;
    }
    if (fails(Fault::sync)) {
      if (options.failed_sync_forgets) settle(file, draw_keep_chance());
      return SQLITE_IOERR_FSYNC;
    }
    for (const Operation& operation : file.unsynced) apply_to_image(operation, file.durable);
    file.unsynced.clear();
    file.name_durable = true;
    return SQLITE_OK;
  }

  int remove(std::string_view raw_name, bool sync_directory) {
    if (!powered) return SQLITE_IOERR;
    const std::string name = absolute(raw_name);
    const auto found = files.find(name);
    if (found == files.end()) return SQLITE_IOERR_DELETE_NOENT;
    if (fails(Fault::remove)) return SQLITE_IOERR_DELETE;
    files.erase(found);
    if (sync_directory) {
      for (auto& [other, file] : files) {
        if (directory_of(other) == directory_of(name)) file->name_durable = true;
      }
    }
    return SQLITE_OK;
  }

  int lock(Handle& handle, int level) {
    if (handle.lock >= level) return SQLITE_OK;
    int strongest_other = SQLITE_LOCK_NONE;
    for (const Handle* other : handle.file->handles) {
      if (other != &handle) strongest_other = std::max(strongest_other, other->lock);
    }
    if (level == SQLITE_LOCK_SHARED) {
      if (strongest_other >= SQLITE_LOCK_PENDING) return SQLITE_BUSY;
    } else if (strongest_other >= SQLITE_LOCK_RESERVED) {
      return SQLITE_BUSY;
    } else if (level == SQLITE_LOCK_EXCLUSIVE && strongest_other >= SQLITE_LOCK_SHARED) {
      handle.lock = SQLITE_LOCK_PENDING;  // keeps new readers out while the old ones finish
      return SQLITE_BUSY;
    }
    handle.lock = level;
    return SQLITE_OK;
  }

  static bool is_reserved(const File& file) {
    return std::any_of(file.handles.begin(), file.handles.end(),
                       [](const Handle* handle) { return handle->lock >= SQLITE_LOCK_RESERVED; });
  }

  int map_shared_memory(Handle& handle, std::size_t region, std::size_t size, bool extend,
                        void volatile** out) {
    *out = nullptr;
    if (!handle.shared_memory) {
      if (fails(Fault::open)) return SQLITE_CANTOPEN;
      handle.shared_memory = handle.file->shared_memory.lock();
      if (!handle.shared_memory) {
        handle.shared_memory = std::make_shared<SharedMemory>();
        handle.file->shared_memory = handle.shared_memory;
      }
      handle.shared_memory->users.push_back(&handle);
    }
    auto& regions = handle.shared_memory->regions;
    while (extend && regions.size() <= region) {
      regions.push_back(std::make_unique<std::uint64_t[]>(size / sizeof(std::uint64_t)));
    }
    if (region < regions.size()) *out = regions[region].get();
    return SQLITE_OK;
  }

  int lock_shared_memory(Handle& handle, unsigned slots, int flags) {
    if ((flags & SQLITE_SHM_UNLOCK) != 0) {
      handle.shared_slots &= ~slots;
      handle.exclusive_slots &= ~slots;
      return SQLITE_OK;
    }
    if (!alive(handle) || !handle.shared_memory) return SQLITE_IOERR;
    const bool exclusive = (flags & SQLITE_SHM_EXCLUSIVE) != 0;
    for (const Handle* other : handle.shared_memory->users) {
      if (other == &handle) continue;
      const unsigned against = other->exclusive_slots | (exclusive ? other->shared_slots : 0U);
      if ((against & slots) != 0) return SQLITE_BUSY;
    }
    (exclusive ? handle.exclusive_slots : handle.shared_slots) |= slots;
    return SQLITE_OK;
  }

  void detach_shared_memory(Handle& handle) {
    if (!handle.shared_memory) return;
    remove_handle(handle.shared_memory->users, &handle);
    handle.shared_memory.reset();
    handle.shared_slots = 0;
    handle.exclusive_slots = 0;
  }

  mutable std::mutex mutex;
  sqlite3_vfs vfs{};
  const std::string vfs_name;
  const SimulatedDiskOptions options;
  std::mt19937_64 random;
  std::map<std::string, std::shared_ptr<File>> files;  // ordered, so a cut is deterministic
  std::array<ArmedFault, kFaultKinds> faults{};
  bool fault_hit = false;
  bool powered = true;
  std::uint64_t boot = 0;  // handles of an earlier boot are dead
  std::uint64_t cut_in = 0;
  std::uint64_t operations = 0;
  std::size_t open_handles = 0;
  sqlite3_int64 now_ms = kFirstInstant_ms;
};

namespace {

using State = SimulatedDisk::State;
using Guard = std::lock_guard<std::mutex>;

Handle& handle_of(sqlite3_file* file) {
  return *reinterpret_cast<SqliteFile*>(file)->handle;
}
State& state_of(sqlite3_vfs* vfs) {
  return *static_cast<State*>(vfs->pAppData);
}

// Runs `action` on a live handle under the disk's mutex; a dead one answers SQLITE_IOERR.
template <typename Action>
int on_live(sqlite3_file* file, Action action) noexcept {
  Handle& handle = handle_of(file);
  const Guard guard(handle.disk->mutex);
  return handle.disk->alive(handle) ? action(*handle.disk, handle) : SQLITE_IOERR;
}

int file_close(sqlite3_file* file) noexcept {
  Handle& handle = handle_of(file);
  State& disk = *handle.disk;
  const Guard guard(disk.mutex);
  disk.close(&handle);
  file->pMethods = nullptr;
  return SQLITE_OK;
}

int file_read(sqlite3_file* file, void* out, int size, sqlite3_int64 offset) noexcept {
  return on_live(file, [&](State& disk, Handle& handle) {
    return disk.read(handle, out, static_cast<std::size_t>(size), static_cast<std::size_t>(offset));
  });
}

int file_write(sqlite3_file* file, const void* bytes, int size, sqlite3_int64 offset) noexcept {
  return on_live(file, [&](State& disk, Handle& handle) {
    return disk.write(
        handle, {false, static_cast<std::size_t>(offset),
                 std::string(static_cast<const char*>(bytes), static_cast<std::size_t>(size))});
  });
}

int file_truncate(sqlite3_file* file, sqlite3_int64 size) noexcept {
  return on_live(file, [&](State& disk, Handle& handle) {
    return disk.truncate(handle, static_cast<std::size_t>(size));
  });
}

int file_sync(sqlite3_file* file, int /*flags*/) noexcept {
  return on_live(file, [](State& disk, Handle& handle) { return disk.sync(handle); });
}

int file_size(sqlite3_file* file, sqlite3_int64* out) noexcept {
  return on_live(file, [&](State&, Handle& handle) {
    *out = static_cast<sqlite3_int64>(handle.file->seen.size());
    return SQLITE_OK;
  });
}

int file_lock(sqlite3_file* file, int level) noexcept {
  return on_live(file, [&](State& disk, Handle& handle) { return disk.lock(handle, level); });
}

int file_unlock(sqlite3_file* file, int level) noexcept {
  return on_live(file, [&](State&, Handle& handle) {
    handle.lock = std::min(handle.lock, level);
    return SQLITE_OK;
  });
}

int file_check_reserved_lock(sqlite3_file* file, int* out) noexcept {
  *out = 0;
  return on_live(file, [&](State&, Handle& handle) {
    *out = State::is_reserved(*handle.file) ? 1 : 0;
    return SQLITE_OK;
  });
}

int file_control(sqlite3_file*, int, void*) noexcept {
  return SQLITE_NOTFOUND;
}
int file_sector_size(sqlite3_file*) noexcept {
  return static_cast<int>(kSectorBytes);
}
int file_device_characteristics(sqlite3_file*) noexcept {
  return SQLITE_IOCAP_POWERSAFE_OVERWRITE;
}

int file_shm_map(sqlite3_file* file, int region, int size, int extend,
                 void volatile** out) noexcept {
  *out = nullptr;
  return on_live(file, [&](State& disk, Handle& handle) {
    return disk.map_shared_memory(handle, static_cast<std::size_t>(region),
                                  static_cast<std::size_t>(size), extend != 0, out);
  });
}

// Not through on_live: letting go must work on a dead handle too.
int file_shm_lock(sqlite3_file* file, int first, int count, int flags) noexcept {
  Handle& handle = handle_of(file);
  const Guard guard(handle.disk->mutex);
  return handle.disk->lock_shared_memory(handle, ((1U << count) - 1U) << first, flags);
}

void file_shm_barrier(sqlite3_file* file) noexcept {
  const Guard guard(handle_of(file).disk->mutex);
}

int file_shm_unmap(sqlite3_file* file, int /*delete_it*/) noexcept {
  Handle& handle = handle_of(file);
  const Guard guard(handle.disk->mutex);
  handle.disk->detach_shared_memory(handle);
  return SQLITE_OK;
}

const sqlite3_io_methods kFileMethods = {
    2,  // iVersion: shared memory, no memory mapping
    file_close,
    file_read,
    file_write,
    file_truncate,
    file_sync,
    file_size,
    file_lock,
    file_unlock,
    file_check_reserved_lock,
    file_control,
    file_sector_size,
    file_device_characteristics,
    file_shm_map,
    file_shm_lock,
    file_shm_barrier,
    file_shm_unmap,
    nullptr,  // xFetch
    nullptr,  // xUnfetch
};

int vfs_open(sqlite3_vfs* vfs, const char* name, sqlite3_file* out, int flags,
             int* out_flags) noexcept {
  out->pMethods = nullptr;  // SQLite closes a file only if this is set
  State& disk = state_of(vfs);
  const Guard guard(disk.mutex);
  return disk.open(name, out, flags, out_flags);
}

int vfs_delete(sqlite3_vfs* vfs, const char* name, int sync_directory) noexcept {
  State& disk = state_of(vfs);
  const Guard guard(disk.mutex);
  return disk.remove(name, sync_directory != 0);
}

int vfs_access(sqlite3_vfs* vfs, const char* name, int flags, int* out) noexcept {
  State& disk = state_of(vfs);
  const Guard guard(disk.mutex);
  *out = 0;
  if (!disk.powered) return SQLITE_IOERR;
  const auto found = disk.files.find(absolute(name));
  // As SQLite's Unix VFS does: an empty file does not "exist", but may be read and written.
  *out =
      found != disk.files.end() && (flags != SQLITE_ACCESS_EXISTS || !found->second->seen.empty());
  return SQLITE_OK;
}

int vfs_full_pathname(sqlite3_vfs*, const char* name, int size, char* out) noexcept {
  const std::string path = absolute(name);
  if (path.size() >= static_cast<std::size_t>(size)) return SQLITE_CANTOPEN;
  std::memcpy(out, path.c_str(), path.size() + 1);
  return SQLITE_OK;
}

int vfs_randomness(sqlite3_vfs* vfs, int size, char* out) noexcept {
  State& disk = state_of(vfs);
  const Guard guard(disk.mutex);
  std::generate_n(out, size, [&] { return static_cast<char>(disk.random() & 0xff); });
  return size;
}

int vfs_sleep(sqlite3_vfs* vfs, int duration_us) noexcept {
  State& disk = state_of(vfs);
  const Guard guard(disk.mutex);
  disk.now_ms += duration_us / 1000;
  return duration_us;
}

int vfs_current_time_ms(sqlite3_vfs* vfs, sqlite3_int64* out) noexcept {
  State& disk = state_of(vfs);
  const Guard guard(disk.mutex);
  *out = disk.now_ms++;
  return SQLITE_OK;
}

int vfs_current_time_d(sqlite3_vfs* vfs, double* out) noexcept {
  sqlite3_int64 now_ms = 0;
  vfs_current_time_ms(vfs, &now_ms);
  *out = static_cast<double>(now_ms) / 86400000.0;
  return SQLITE_OK;
}

int vfs_get_last_error(sqlite3_vfs*, int size, char* out) noexcept {
  if (size > 0 && out != nullptr) *out = '\0';
  return 0;  // there is no errno behind this disk
}

bool is_chance(double value) {
  return value >= 0.0 && value <= 1.0;
}

}  // namespace

SimulatedDisk::SimulatedDisk(std::string vfs_name, const SimulatedDiskOptions& options) {
  if (!is_chance(options.torn_chance) || !is_chance(options.garbage_chance)) {
    throw std::invalid_argument("SimulatedDisk: a chance is not in 0..1");
  }
  if (vfs_name.empty() || sqlite3_vfs_find(vfs_name.c_str()) != nullptr) {
    throw std::invalid_argument("SimulatedDisk: VFS name empty or taken: '" + vfs_name + "'");
  }
  state_ = std::make_unique<State>(std::move(vfs_name), options);
  sqlite3_vfs& vfs = state_->vfs;
  vfs.iVersion = 2;
  vfs.szOsFile = sizeof(SqliteFile);
  vfs.mxPathname = 512;
  vfs.zName = state_->vfs_name.c_str();
  vfs.pAppData = state_.get();
  vfs.xOpen = vfs_open;
  vfs.xDelete = vfs_delete;
  vfs.xAccess = vfs_access;
  vfs.xFullPathname = vfs_full_pathname;
  vfs.xRandomness = vfs_randomness;
  vfs.xSleep = vfs_sleep;
  vfs.xCurrentTime = vfs_current_time_d;
  vfs.xGetLastError = vfs_get_last_error;
  vfs.xCurrentTimeInt64 = vfs_current_time_ms;
  if (sqlite3_vfs_register(&vfs, /*make_default=*/0) != SQLITE_OK) {
    throw std::runtime_error("SimulatedDisk: SQLite refused to register the VFS");
  }
}

SimulatedDisk::~SimulatedDisk() {
  sqlite3_vfs_unregister(&state_->vfs);
  bool in_use = false;
  {
    const Guard guard(state_->mutex);
    in_use = state_->open_handles > 0;
  }
  // A test that stops early leaves connections open; they still point here.
  if (in_use) static_cast<void>(state_.release());
}

const std::string& SimulatedDisk::vfs_name() const {
  return state_->vfs_name;
}

void SimulatedDisk::seed_sqlite() {
  const int seed = static_cast<int>(state_->options.seed % 0x7fffffffU) + 1;  // 0 means "unseeded"
  sqlite3_test_control(SQLITE_TESTCTRL_PRNG_SEED, seed, static_cast<sqlite3*>(nullptr));
  sqlite3_randomness(0, nullptr);  // start the generator anew, from that seed
}

void SimulatedDisk::power_cut() {
  const Guard guard(state_->mutex);
  if (state_->powered) state_->lose_power();
  state_->powered = true;
}

void SimulatedDisk::cut_after(std::uint64_t n) {
  const Guard guard(state_->mutex);
  state_->cut_in = n;
}

void SimulatedDisk::reboot() {
  const Guard guard(state_->mutex);
  state_->cut_in = 0;
  state_->powered = true;
}

bool SimulatedDisk::powered() const {
  const Guard guard(state_->mutex);
  return state_->powered;
}

std::uint64_t SimulatedDisk::operations() const {
  const Guard guard(state_->mutex);
  return state_->operations;
}

void SimulatedDisk::fail_nth(Fault fault, std::uint64_t n, FailMode mode) {
  const Guard guard(state_->mutex);
  state_->faults[static_cast<std::size_t>(fault)] = {n, mode, false};
  state_->fault_hit = false;
}

bool SimulatedDisk::fault_hit() const {
  const Guard guard(state_->mutex);
  return state_->fault_hit;
}

void SimulatedDisk::clear_faults() {
  const Guard guard(state_->mutex);
  state_->faults = {};
}

std::optional<std::string> SimulatedDisk::read_file(std::string_view name) const {
  const Guard guard(state_->mutex);
  const auto found = state_->files.find(absolute(name));
  if (found == state_->files.end()) return std::nullopt;
  return found->second->seen;
}

void SimulatedDisk::write_file(std::string_view name, std::string_view bytes) {
  const Guard guard(state_->mutex);
  auto file = std::make_shared<File>();
  file->seen = bytes;
  file->durable = bytes;
  file->name_durable = true;
  state_->files[absolute(name)] = std::move(file);
}

std::vector<std::string> SimulatedDisk::list() const {
  const Guard guard(state_->mutex);
  std::vector<std::string> names;
  for (const auto& [name, file] : state_->files) {
    if (!file->temporary) names.push_back(name);
  }
  return names;
}

}  // namespace warmside::fault
