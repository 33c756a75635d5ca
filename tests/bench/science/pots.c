/* The pot matrix beside ours: CVODE, Adams or BDF, conversion limit and gel found by its own roots.
 *
 * Use: pots FILE, FILE with a pot in each line: loss (1/s), air (K). Every line of input asks: METHOD RELATIVE ABS_A ABS_T
 * with METHOD adams or bdf; the answer is its own seconds, the values of the right-hand side, and two instants (s) a pot.
 */
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>
#include <time.h>

#define MOST 200
static const double GAS = 8.314462618, WORK = 0.1938869273, GEL = 0.5773502691896258;

typedef struct {
    double loss, air, work, gel;
    long calls;
} Pot;

static double left(double a) { return a < 1.0 ? 1.0 - a : 0.0; }

static int rhs(realtype t, N_Vector y, N_Vector slope, void *given)
{
    Pot *pot = given;
    double a = NV_Ith_S(y, 0), kelvin = NV_Ith_S(y, 1), x = (1.0 / 298.15 - 1.0 / kelvin) / GAS;
    double rate = (1e-5 * exp(60e3 * x) + 2e-4 * exp(55e3 * x) * (a > 0.0 ? a : 0.0)) * left(a) * left(a);
    (void)t;
    NV_Ith_S(slope, 0) = rate;
    NV_Ith_S(slope, 1) = 200.0 * rate - pot->loss * (kelvin - pot->air);
    pot->calls++;
    return 0;
}

static int levels(realtype t, N_Vector y, realtype *out, void *given)
{
    (void)t;
    (void)given;
    out[0] = NV_Ith_S(y, 0) - WORK;
    out[1] = NV_Ith_S(y, 0) - GEL;
    return 0;
}

/* One pot, until it cools after its gel point. */
static void run(Pot *pot, int bdf, double relative, double abs_a, double abs_t, SUNContext context)
{
    N_Vector y = N_VNew_Serial(2, context), floor = N_VNew_Serial(2, context);
    void *memory = CVodeCreate(bdf ? CV_BDF : CV_ADAMS, context);
    SUNMatrix matrix = NULL;
    SUNLinearSolver linear = NULL;
    SUNNonlinearSolver fixed = NULL;
    realtype t = 0.0, hottest;
    int found[2];
    NV_Ith_S(y, 0) = 0.0;
    NV_Ith_S(y, 1) = hottest = pot->air;
    NV_Ith_S(floor, 0) = abs_a;
    NV_Ith_S(floor, 1) = abs_t;
    pot->work = pot->gel = NAN;
    CVodeInit(memory, rhs, 0.0, y);
    CVodeSVtolerances(memory, relative, floor);
    CVodeSetUserData(memory, pot);
    CVodeSetMaxNumSteps(memory, 1000000);
    CVodeRootInit(memory, 2, levels);
    if (bdf) {
        matrix = SUNDenseMatrix(2, 2, context);
        linear = SUNLinSol_Dense(y, matrix, context);
        CVodeSetLinearSolver(memory, linear, matrix);
    } else {
        fixed = SUNNonlinSol_FixedPoint(y, 0, context);
        CVodeSetNonlinearSolver(memory, fixed);
    }
    for (;;) {
        int flag = CVode(memory, 5184000.0, y, &t, CV_ONE_STEP);
        if (flag < 0 || t >= 5184000.0)
            break;
        if (flag == CV_ROOT_RETURN) {
            CVodeGetRootInfo(memory, found);
            if (found[0] && isnan(pot->work))
                pot->work = t;
            if (found[1] && isnan(pot->gel))
                pot->gel = t;
            continue;
        }
        if (NV_Ith_S(y, 1) > hottest)
            hottest = NV_Ith_S(y, 1);
        if (!isnan(pot->gel) && (NV_Ith_S(y, 0) > 0.999 || (NV_Ith_S(y, 1) < hottest && NV_Ith_S(y, 0) > 0.6)))
            break;
    }
    N_VDestroy(y);
    N_VDestroy(floor);
    CVodeFree(&memory);
    if (linear)
        SUNLinSolFree(linear);
    if (matrix)
        SUNMatDestroy(matrix);
    if (fixed)
        SUNNonlinSolFree(fixed);
}

int main(int count, char **words)
{
    static Pot pots[MOST];
    int many = 0;
    char method[16];
    double relative, abs_a, abs_t;
    SUNContext context;
    FILE *file = count > 1 ? fopen(words[1], "r") : NULL;
    if (!file || SUNContext_Create(NULL, &context))
        return 1;
    while (many < MOST && fscanf(file, "%lf %lf", &pots[many].loss, &pots[many].air) == 2)
        many++;
    fclose(file);
    while (scanf("%15s %lf %lf %lf", method, &relative, &abs_a, &abs_t) == 4) {
        struct timespec began, ended;
        long calls = 0;
        clock_gettime(CLOCK_MONOTONIC, &began);
        for (int i = 0; i < many; i++) {
            pots[i].calls = 0;
            run(&pots[i], strcmp(method, "bdf") == 0, relative, abs_a, abs_t, context);
            calls += pots[i].calls;
        }
        clock_gettime(CLOCK_MONOTONIC, &ended);
        printf("%.9f %ld", (double)(ended.tv_sec - began.tv_sec) + 1e-9 * (double)(ended.tv_nsec - began.tv_nsec), calls);
        for (int i = 0; i < many; i++)
            printf(" %.17g %.17g", pots[i].work, pots[i].gel);
        printf("\n");
        fflush(stdout);
    }
    SUNContext_Free(&context);
    return 0;
}
