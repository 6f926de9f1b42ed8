/* The calendar along the top of a plan. The model of x is a Julian day number with the part of the day behind it. */
#pragma once

#include "draw/canvas.h"

/* Names of months (or days, where the plan is short) above the frame's top, and grid lines down to its bottom. */
void calendar_axis(Canvas *canvas, const Frame *frame);
