/*
 * Harmonics 1 to 4 and total indicator reading of rows of readings, as plain C would do it.
 * usage: harmonics even|qr FILE POSITIONS ROUNDS; FILE holds doubles, and for qr first the angles in degrees; NaN is missing.
 * Prints the milliseconds of the processor that each round took, and a sum of all figures that can be compared.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define ORDERS 4
#define P (2 * ORDERS + 1)
#define MOST 64

static double milliseconds(void) {
  struct timespec t;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return t.tv_sec * 1e3 + t.tv_nsec / 1e6;
}

static double direction(double x, double y) {
  double degrees = atan2(y, x) * (180 / M_PI);
  return degrees < 0 ? degrees + 360 : degrees;
}

static double figures(const double *c, double *amounts, double *angles) {
  double sum = 0;
  for (int k = 1; k <= ORDERS; k++) {
    double a = c[2 * k - 1], b = c[2 * k];
    amounts[k - 1] = 2 * sqrt(a * a + b * b);
    angles[k - 1] = direction(a, b) / k;
    sum += amounts[k - 1] + angles[k - 1];
  }
  return sum;
}

static double even(const double *values, long rows, int n, const double *table, double *out) {
  double sum = 0;
  for (long row = 0; row < rows; row++) {
    const double *y = values + row * n;
    double c[P], most = y[0], least = y[0];
    for (int i = 0; i < n; i++) {
      most = y[i] > most ? y[i] : most;
      least = y[i] < least ? y[i] : least;
    }
    for (int j = 0; j < P; j++) {
      double dot = 0;
      for (int i = 0; i < n; i++) dot += y[i] * table[j * n + i];
      c[j] = dot;
    }
    double *to = out + row * (2 * ORDERS + 1);
    to[0] = most - least;
    sum += to[0] + figures(c, to + 1, to + 1 + ORDERS);
  }
  return sum;
}

/* Least squares by Householder reflections, columns one after another; the solution goes into c. */
static void solve(double *x, double *y, int n, double *c) {
  double r[P * P];
  for (int j = 0; j < P; j++) {
    double *v = x + j * n, square = 0;
    for (int i = j; i < n; i++) square += v[i] * v[i];
    double size = v[j] > 0 ? -sqrt(square) : sqrt(square), head = v[j] - size;
    r[j * P + j] = size;
    v[j] = head;
    double scale = 2 / (square - (head + size) * (head + size) + head * head);
    for (int k = j + 1; k <= P; k++) {
      double *column = k < P ? x + k * n : y, dot = 0;
      for (int i = j; i < n; i++) dot += v[i] * column[i];
      for (int i = j; i < n; i++) column[i] -= scale * dot * v[i];
      if (k < P) r[j * P + k] = column[j];
    }
  }
  for (int j = P - 1; j >= 0; j--) {
    double value = y[j];
    for (int k = j + 1; k < P; k++) value -= r[j * P + k] * c[k];
    c[j] = value / r[j * P + j];
  }
}

static double qr(const double *values, long rows, int n, const double *table, double *out) {
  double sum = 0;
  for (long row = 0; row < rows; row++) {
    const double *all = values + row * n;
    double x[P * MOST], y[MOST], c[P], most = -INFINITY, least = INFINITY;
    int index[MOST], m = 0;
    for (int i = 0; i < n; i++) {
      if (isnan(all[i])) continue;
      index[m] = i;
      y[m++] = all[i];
      most = all[i] > most ? all[i] : most;
      least = all[i] < least ? all[i] : least;
    }
    for (int j = 0; j < P; j++)
      for (int i = 0; i < m; i++) x[j * m + i] = table[j * n + index[i]];
    solve(x, y, m, c);
    double *to = out + row * (2 * ORDERS + 1);
    to[0] = most - least;
    sum += to[0] + figures(c, to + 1, to + 1 + ORDERS);
  }
  return sum;
}

int main(int argc, char **argv) {
  if (argc != 5) return 2;
  int isEven = strcmp(argv[1], "even") == 0, n = atoi(argv[3]), rounds = atoi(argv[4]);
  if (n < P || n > MOST) return 2;
  FILE *file = fopen(argv[2], "rb");
  if (!file) return 1;
  fseek(file, 0, SEEK_END);
  long count = ftell(file) / (long)sizeof(double);
  rewind(file);
  double *data = malloc(count * sizeof(double));
  if (fread(data, sizeof(double), count, file) != (size_t)count) return 1;
  const double *values = isEven ? data : data + n;
  long rows = (isEven ? count : count - n) / n;
  double *out = malloc(rows * (2 * ORDERS + 1) * sizeof(double));
  for (int round = 0; round < rounds; round++) {
    double start = milliseconds(), table[P * MOST];
    for (int i = 0; i < n; i++) {
      double angle = (isEven ? 360.0 * i / n : data[i]) * M_PI / 180;
      table[i] = isEven ? 1.0 / n : 1;
      for (int k = 1; k <= ORDERS; k++) {
        table[(2 * k - 1) * n + i] = cos(k * angle) * (isEven ? 2.0 / n : 1);
        table[2 * k * n + i] = sin(k * angle) * (isEven ? 2.0 / n : 1);
      }
    }
    double sum = isEven ? even(values, rows, n, table, out) : qr(values, rows, n, table, out);
    printf("%.6f %.17g\n", milliseconds() - start, sum);
  }
  return 0;
}
