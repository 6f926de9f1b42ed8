/* KN against displacement, one curve a heel, each named at its right end where there is room. */
#include "draw/axes.h"

#include <math.h>

#include "base/number.h"

#define WHOLE_DEGREES (2.0 * G_PI / 180.0) /* as a spread: no decimals */

static const char *const classes[] = {"form form-1", "form form-2", "form form-3", "form form-4",
                                      "form form-5", "form form-6", "form form-7", "form form-8"};

static Frame
frame_of(const CrossCurvesPicture *fig)
{
    double low = 0.0, high = 0.0;
    for (size_t i = 0; i < fig->heels * fig->masses; i++)
        if (isfinite(fig->kn_m[i])) {
            low = fmin(low, fig->kn_m[i]);
            high = fmax(high, fig->kn_m[i]);
        }
    double from = fig->masses > 0 ? fig->mass_kg[0] : 0.0;
    double to = fig->masses > 0 ? fig->mass_kg[fig->masses - 1] : 1.0;
    return frame_fit(from, to, low, 1.05 * high, 58.0, 40.0, CANVAS_WIDTH - 58.0 - 66.0, 260.0);
}

static void
name_curve(Canvas *canvas, const Frame *frame, const CrossCurvesPicture *fig, size_t k,
           const char *name)
{
    const double *kn = &fig->kn_m[k * fig->masses];
    size_t last = fig->masses;
    while (last > 0 && !isfinite(kn[last - 1]))
        last--;
    if (last == 0)
        return;
    Box bounds = {frame->right + 2, frame->top - 8, CANVAS_WIDTH - 2, frame->bottom + 4};
    draw_label(canvas, "label", frame->right, frame_y(frame, kn[last - 1]), name, &bounds);
}

void
draw_cross_curves(const CrossCurvesPicture *fig, const DrawHow *how, Markup *svg)
{
    Canvas canvas;
    Frame frame = frame_of(fig);
    canvas_begin(&canvas, svg, how, "img", "Cross curves of stability", fig->caption);
    canvas_readout(&canvas, &frame, Q_MASS, Q_LENGTH);
    axis_x(&canvas, &frame, Q_MASS, "displacement");
    axis_y(&canvas, &frame, Q_LENGTH, "KN");
    rule_x(&canvas, &frame, "present", fig->present_mass_kg);
    for (size_t k = 0; k < fig->heels; k++) {
        g_autofree char *name = number_show(fig->heel_rad[k], WHOLE_DEGREES, Q_ANGLE, how->units);
        draw_curve(&canvas, &frame, classes[k % G_N_ELEMENTS(classes)], name, fig->masses,
                   fig->mass_kg, &fig->kn_m[k * fig->masses]);
        name_curve(&canvas, &frame, fig, k, name);
    }
    double y = frame.bottom + 40.0;
    if (isfinite(fig->present_mass_kg)) {
        g_autofree char *mass = show(&canvas, fig->present_mass_kg, Q_MASS);
        g_autofree char *kg = show(&canvas, fig->present_kg_m, Q_LENGTH);
        g_autofree char *text = g_strdup_printf("she weighs %s; KG %s", mass, kg);
        key_line(&canvas, "present", &y, text);
    }
    y += 4.0;
    draw_paragraph(&canvas, "caption", CANVAS_MARGIN, &y, "GZ = KN - KG * sin(heel)");
    if (fig->caption != NULL)
        draw_paragraph(&canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    canvas_end(&canvas);
}
