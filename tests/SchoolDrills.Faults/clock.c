// Loaded before all other libraries of a host: what its wall clock answers is ahead by the seconds that the file FAULTS_CLOCK holds.
// Waits are by clocks that only measure time, and are left alone.
#define _GNU_SOURCE
#include <fcntl.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/syscall.h>
#include <sys/time.h>
#include <time.h>
#include <unistd.h>

static volatile const long long *ahead_s;

__attribute__((constructor)) static void begin(void) {
  const char *path = getenv("FAULTS_CLOCK");
  int file = path ? open(path, O_RDONLY | O_CLOEXEC) : -1;
  void *at = file < 0 ? MAP_FAILED : mmap(NULL, sizeof *ahead_s, PROT_READ, MAP_SHARED, file, 0);
  if (at != MAP_FAILED) ahead_s = at;
}

int clock_gettime(clockid_t clock, struct timespec *now) {
  int result = syscall(SYS_clock_gettime, clock, now);
  if (result == 0 && ahead_s && (clock == CLOCK_REALTIME || clock == CLOCK_REALTIME_COARSE)) now->tv_sec += *ahead_s;
  return result;
}

int gettimeofday(struct timeval *restrict now, void *restrict zone) {
  struct timespec t;
  (void)zone;
  if (clock_gettime(CLOCK_REALTIME, &t) != 0) return -1;
  now->tv_sec = t.tv_sec;
  now->tv_usec = t.tv_nsec / 1000;
  return 0;
}

time_t time(time_t *out) {
  struct timespec t;
  clock_gettime(CLOCK_REALTIME, &t);
  if (out) *out = t.tv_sec;
  return t.tv_sec;
}
