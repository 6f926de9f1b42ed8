/* Curves of form: draught upwards, each curve on a scale of its own from its least to its greatest
 * value. */
#include "draw/axes.h"

#include <math.h>

#include "base/number.h"

enum { CURVES = 8 };

typedef struct {
    const char *classes, *name;
    QuantityKind kind;
    const double *value;
} Form;

static void
forms_of(const HydrostaticCurvesPicture *fig, Form form[CURVES])
{
    const Form all[CURVES] = {
        {"form form-1", "displacement", Q_MASS, fig->displacement_kg},
        {"form form-2", "LCB from the stern", Q_LENGTH, fig->lcb_m},
        {"form form-3", "LCF from the stern", Q_LENGTH, fig->lcf_m},
        {"form form-4", "KB", Q_LENGTH, fig->kb_m},
        {"form form-5", "KM", Q_LENGTH, fig->km_m},
        {"form form-6", "mass to sink her", Q_MASS_PER_LENGTH, fig->sinkage_kg_per_m},
        {"form form-7", "moment to trim her", Q_MASS_MOMENT_PER_LENGTH, fig->trim_kgm_per_m},
        {"form form-8", "water-plane area", Q_AREA, fig->plane_m2},
    };
    for (size_t i = 0; i < CURVES; i++)
        form[i] = all[i];
}

static bool
range_of(const HydrostaticCurvesPicture *fig, const Form *form, double *low, double *high)
{
    *low = INFINITY;
    *high = -INFINITY;
    for (size_t i = 0; form->value != NULL && i < fig->n; i++)
        if (isfinite(form->value[i])) {
            *low = fmin(*low, form->value[i]);
            *high = fmax(*high, form->value[i]);
        }
    return *high >= *low;
}

static double
value_at(const HydrostaticCurvesPicture *fig, const double value[], double draught)
{
    for (size_t i = 1; i < fig->n; i++) {
        double a = fig->draught_m[i - 1], b = fig->draught_m[i];
        if (draught >= a && draught <= b && b > a)
            return value[i - 1] + (value[i] - value[i - 1]) * (draught - a) / (b - a);
    }
    return NAN;
}

/* The curve's points for the read-out are its own values, not the shares they are drawn at. */
static void
draw_form(Canvas *canvas, const Frame *frame, const HydrostaticCurvesPicture *fig, const Form *form,
          int number)
{
    double low, high;
    if (!range_of(fig, form, &low, &high))
        return;
    double span = high - low > 1e-9 * fmax(fabs(low), fabs(high)) ? high - low : 0.0;
    g_autofree double *x = g_new(double, fig->n), *y = g_new(double, fig->n);
    for (size_t i = 0; i < fig->n; i++) {
        double share = span > 0.0 ? (form->value[i] - low) / span : 0.5;
        x[i] = frame_x(frame, share);
        y[i] = frame_y(frame, fig->draught_m[i]);
    }
    draw_path(canvas, form->classes, fig->n, x, y, false);
    char tag[4];
    g_snprintf(tag, sizeof tag, "%d", number);
    Box bounds = {frame->left + 1, frame->top + 1, frame->right + 8, frame->bottom - 1};
    size_t at = fig->n > 0 ? (fig->n - 1) - (size_t) number * (fig->n - 1) / 12 : 0;
    if (fig->n > 0)
        draw_tag(canvas, "tag", x[at], y[at], tag, &bounds);
}

static void
key_form(Canvas *canvas, double *y, const HydrostaticCurvesPicture *fig, const Form *form,
         int number)
{
    double low, high;
    if (!range_of(fig, form, &low, &high))
        return;
    g_autofree char *from = show(canvas, low, form->kind);
    g_autofree char *to = show(canvas, high, form->kind);
    g_autofree char *text = g_strdup_printf("%d: %s, %s to %s", number, form->name, from, to);
    key_line(canvas, form->classes, y, text);
    double now = value_at(fig, form->value, fig->present_draught_m);
    if (isfinite(now)) {
        g_autofree char *shown = show(canvas, now, form->kind);
        g_autofree char *present = g_strdup_printf("    now %s", shown);
        key_line(canvas, "none", y, present);
    }
}

void
draw_hydrostatic_curves(const HydrostaticCurvesPicture *fig, const DrawHow *how, Markup *svg)
{
    Canvas canvas;
    canvas_begin(&canvas, svg, how, "img", "Hydrostatic curves", fig->caption);
    double low = fig->n > 0 ? fig->draught_m[0] : 0.0;
    double high = fig->n > 0 ? fig->draught_m[fig->n - 1] : 1.0;
    Frame frame = frame_fit(0.0, 1.0, low, high, 58.0, 40.0, CANVAS_WIDTH - 58.0 - 24.0, 260.0);
    axis_y(&canvas, &frame, Q_LENGTH, "draught");
    draw_line(&canvas, "axis", frame.left, frame.bottom, frame.right, frame.bottom);
    rule_y(&canvas, &frame, "present", fig->present_draught_m);
    Form form[CURVES];
    forms_of(fig, form);
    for (int i = 0; i < CURVES; i++)
        draw_form(&canvas, &frame, fig, &form[i], i + 1);
    double y = frame.bottom + 4.0;
    if (isfinite(fig->present_draught_m)) {
        g_autofree char *draught = show(&canvas, fig->present_draught_m, Q_LENGTH);
        g_autofree char *mass = show(&canvas, fig->present_kg, Q_MASS);
        g_autofree char *text = g_strdup_printf("she floats at %s now, %s", draught, mass);
        key_line(&canvas, "present", &y, text);
    }
    for (int i = 0; i < CURVES; i++)
        key_form(&canvas, &y, fig, &form[i], i + 1);
    y += 4.0;
    draw_paragraph(
        &canvas, "caption", CANVAS_MARGIN, &y,
        "Each curve runs from its least value at the left to its greatest at the right.");
    if (fig->caption != NULL)
        draw_paragraph(&canvas, "caption", CANVAS_MARGIN, &y, fig->caption);
    canvas_end(&canvas);
}
