/* A plain single-threaded reader of binary STL, to compare with: reads the file,
   welds corners by hashing, checks that every edge is run once each way, and sums
   the volume in double. No more than that. */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct { uint32_t x, y, z; } corner;

static uint64_t mix(uint64_t h) {
  h ^= h >> 32; h *= 0x9E3779B97F4A7C15u; h ^= h >> 29; return h;
}

static uint64_t table_size(uint64_t n) {
  uint64_t s = 16;
  while (s < n * 2) s *= 2;
  return s;
}

int main(int argc, char **argv) {
  FILE *f = argc > 1 ? fopen(argv[1], "rb") : NULL;
  if (!f) return 1;
  fseek(f, 0, SEEK_END);
  long size = ftell(f);
  rewind(f);
  unsigned char *data = malloc(size);
  if (!data || fread(data, 1, size, f) != (size_t)size || size < 84) return 1;
  uint32_t n;
  memcpy(&n, data + 80, 4);
  if ((uint64_t)n * 50 + 84 > (uint64_t)size) return 1;

  uint64_t slots = table_size((uint64_t)n / 2 + 16);
  uint32_t *table = calloc(slots, 4), used = 0, room = n / 2 + 16;
  corner *points = malloc(sizeof(corner) * room);
  uint32_t *index = malloc((size_t)n * 12);
  for (uint32_t t = 0; t < n; t++) {
    for (int k = 0; k < 3; k++) {
      corner c;
      memcpy(&c, data + 84 + (size_t)t * 50 + 12 + 12 * k, 12);
      if (c.x == 0x80000000u) c.x = 0;
      if (c.y == 0x80000000u) c.y = 0;
      if (c.z == 0x80000000u) c.z = 0;
      uint64_t at = mix(c.x + mix(c.y + mix(c.z))) & (slots - 1);
      while (table[at] && memcmp(&points[table[at] - 1], &c, 12)) at = (at + 1) & (slots - 1);
      if (!table[at]) {
        if (used == room) points = realloc(points, sizeof(corner) * (room *= 2));
        if ((uint64_t)used * 2 > slots) return 1; /* far from closed */
        points[used++] = c;
        table[at] = used;
      }
      index[(size_t)t * 3 + k] = table[at] - 1;
    }
  }

  uint64_t edges = (uint64_t)n * 3 / 2 + 16, room2 = table_size(edges);
  uint64_t *keys = calloc(room2, 8);
  int8_t *balance = calloc(room2, 1);
  double volume = 0;
  for (uint32_t t = 0; t < n; t++) {
    uint32_t *v = index + (size_t)t * 3;
    float p[3][3];
    for (int k = 0; k < 3; k++) {
      memcpy(p[k], &points[v[k]], 12);
      uint32_t a = v[k], b = v[(k + 1) % 3];
      int way = a < b ? 1 : -1;
      uint64_t key = a < b ? ((uint64_t)a << 32 | b) + 1 : ((uint64_t)b << 32 | a) + 1;
      uint64_t at = mix(key) & (room2 - 1);
      while (keys[at] && keys[at] != key) at = (at + 1) & (room2 - 1);
      keys[at] = key;
      balance[at] += way;
    }
    volume += p[0][0] * ((double)p[1][1] * p[2][2] - (double)p[1][2] * p[2][1])
            + p[0][1] * ((double)p[1][2] * p[2][0] - (double)p[1][0] * p[2][2])
            + p[0][2] * ((double)p[1][0] * p[2][1] - (double)p[1][1] * p[2][0]);
  }
  uint64_t open = 0;
  for (uint64_t i = 0; i < room2; i++) open += balance[i] != 0;
  printf("%u facets, %u corners, %llu open edges, volume %.6f\n", n, used, (unsigned long long)open, volume / 6);
  return 0;
}
