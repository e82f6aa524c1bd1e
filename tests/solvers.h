/* girdle: counts, places, prices and plans flat-back stones on costumes.
 * SPDX-License-Identifier: MIT. Copyright the girdle contributors. */
#ifndef GIRDLE_TESTS_SOLVERS_H
#define GIRDLE_TESTS_SOLVERS_H

/* Two solvers that know nothing of girdle: GLPK for the packs of one stone, CBC for orders. Both prove their optimum.
 */

#include <coin/Cbc_C_Interface.h>
#include <glpk.h>

#include "market.h"

typedef struct pack_problem {
  int64_t need, pieces[6], prices[6];
  int packs;
} pack_problem;

static inline pack_problem pack_problem_of(uint64_t *seed) {
  static const int64_t sizes[] = {20, 36, 50, 72, 100, 144, 288, 500, 720, 1440};
  pack_problem problem = {.need = market_between(seed, 20, 3000)};
  const int64_t each_millis = market_between(seed, 2000, 9000);
  while (problem.packs < 3)
    for (int i = problem.packs = 0; i < 10; i++) {
      if (problem.packs == 6 || test_random(seed) % 10 > 3) continue;
      problem.pieces[problem.packs] = sizes[i];
      problem.prices[problem.packs++] =
          1 + sizes[i] * each_millis * market_between(seed, 850, 1150) / 1000000 * (1000 - 40 * i) / 1000;
    }
  return problem;
}

static inline int64_t packs_by_glpk(const pack_problem *problem) {
  glp_prob *linear = glp_create_prob();
  glp_iocp options;
  int columns[7];
  double values[7], cost;
  glp_add_rows(linear, 1);
  glp_set_row_bnds(linear, 1, GLP_LO, (double)problem->need, 0);
  glp_add_cols(linear, problem->packs);
  for (int i = 1; i <= problem->packs; i++) {
    glp_set_col_kind(linear, i, GLP_IV);
    glp_set_col_bnds(linear, i, GLP_LO, 0, 0);
    glp_set_obj_coef(linear, i, (double)problem->prices[i - 1]);
    columns[i] = i;
    values[i] = (double)problem->pieces[i - 1];
  }
  glp_set_mat_row(linear, 1, problem->packs, columns, values);
  glp_init_iocp(&options);
  options.presolve = GLP_ON;
  options.msg_lev = GLP_MSG_OFF;
  glp_intopt(linear, &options);
  cost = glp_mip_obj_val(linear);
  glp_delete_prob(linear);
  return (int64_t)nearbyint(cost);
}

static inline int64_t order_by_cbc(const program *mip) {
  Cbc_Model *model = Cbc_newModel();
  static int starts[MIP_COLUMNS + 1], rows[MIP_ENTRIES];
  static double values[MIP_ENTRIES], zero[MIP_COLUMNS], above[MIP_ROWS];
  int at = 0;
  double cost;
  for (int c = 0; c < mip->columns; c++) {
    starts[c] = at;
    for (int e = 0; e < mip->entries; e++) {
      if (mip->column_of[e] != c) continue;
      rows[at] = mip->row_of[e];
      values[at++] = mip->value[e];
    }
  }
  starts[mip->columns] = at;
  for (int r = 0; r < mip->rows; r++)
    above[r] = 1e30;
  Cbc_loadProblem(model, mip->columns, mip->rows, starts, rows, values, zero, mip->most, mip->cost, mip->least, above);
  for (int c = 0; c < mip->columns; c++)
    Cbc_setInteger(model, c);
  Cbc_setLogLevel(model, 0);
  Cbc_setParameter(model, "ratioGap", "0");
  Cbc_setParameter(model, "allowableGap", "0");
  Cbc_solve(model);
  cost = Cbc_isProvenOptimal(model) ? Cbc_getObjValue(model) : -1;
  Cbc_deleteModel(model);
  return (int64_t)nearbyint(cost);
}

/* The same by GLPK, which is slower; -1 when it was not done in two minutes. */
static inline int64_t order_by_glpk(const program *mip) {
  static int rows[MIP_ENTRIES + 1], columns[MIP_ENTRIES + 1];
  static double values[MIP_ENTRIES + 1];
  glp_prob *linear = glp_create_prob();
  glp_iocp options;
  double cost;
  glp_add_rows(linear, mip->rows);
  glp_add_cols(linear, mip->columns);
  for (int r = 0; r < mip->rows; r++)
    glp_set_row_bnds(linear, r + 1, GLP_LO, mip->least[r], 0);
  for (int c = 0; c < mip->columns; c++) {
    glp_set_col_kind(linear, c + 1, GLP_IV);
    glp_set_col_bnds(linear, c + 1, mip->most[c] > 0 ? GLP_DB : GLP_FX, 0, mip->most[c]);
    glp_set_obj_coef(linear, c + 1, mip->cost[c]);
  }
  for (int e = 0; e < mip->entries; e++) {
    rows[e + 1] = mip->row_of[e] + 1;
    columns[e + 1] = mip->column_of[e] + 1;
    values[e + 1] = mip->value[e];
  }
  glp_load_matrix(linear, mip->entries, rows, columns, values);
  glp_init_iocp(&options);
  options.presolve = GLP_ON;
  options.msg_lev = GLP_MSG_OFF;
  options.tm_lim = 120000;
  cost = glp_intopt(linear, &options) == 0 && glp_mip_status(linear) == GLP_OPT ? glp_mip_obj_val(linear) : -1;
  glp_delete_prob(linear);
  return (int64_t)nearbyint(cost);
}

#endif
