/* The answers of the afloat discipline: their rows, and giving them. */
#pragma once

#include "checks/afloat/workings.h"
#include "result/answer.h"

extern const AnswerKind answer_displacement, answer_lcg, answer_tcg, answer_vcg, answer_draught_aft,
    answer_draught_fore, answer_trim, answer_list, answer_freeboard, answer_gm, answer_gz_max,
    answer_gz_range, answer_opening_height, answer_air_draught, answer_flooding_angle,
    answer_weight_on_stern, answer_draught, answer_wetted_surface;

void afloat_give_answers(const Afloat *afloat, Result *result);
