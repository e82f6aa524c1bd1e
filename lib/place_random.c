/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#include "place_internal.h"

/* The splitmix64 generator (Steele, Lea and Flood, 2014): one addition and a mixing of bits a number. */

static uint64_t mixed(uint64_t z) {
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

uint64_t girdle_random_next(uint64_t *state) {
  return mixed(*state += 0x9e3779b97f4a7c15u);
}

double girdle_random_unit(uint64_t *state) {
  return (double)(girdle_random_next(state) >> 11) * 0x1p-53;
}

uint64_t girdle_random_below(uint64_t *state, uint64_t limit) {
  return (uint64_t)(girdle_random_unit(state) * (double)limit);
}

uint64_t girdle_random_mixed(uint64_t a, uint64_t b) {
  return mixed(mixed(a + 0x9e3779b97f4a7c15u) + b);
}
