/* Symbols of batteries, boards, loads, fuses and breakers.
 * Source: the shapes of IEC 60617 (06-15, 07-13, 07-21, 08-10, 06-04, 06-14, 11-13), from memory. */
#include "draw/wiring/symbols.h"

#include <math.h>

static void
stroke(Canvas *canvas, double x, double y, double x1, double y1, double x2, double y2)
{
    draw_line(canvas, "symbol", x + x1, y + y1, x + x2, y + y2);
}

static void
letter(Canvas *canvas, double x, double y, const char *text)
{
    draw_text_kept(canvas, "symbol-text", x, y + 5.4, ANCHOR_MIDDLE, text);
}

static void
square(Canvas *canvas, double x, double y)
{
    draw_box(canvas, "symbol", x - SYMBOL_HALF, y - SYMBOL_HALF, 2 * SYMBOL_HALF, 2 * SYMBOL_HALF);
}

static void
battery(Canvas *canvas, double x, double y)
{
    stroke(canvas, x, y, -SYMBOL_HALF, 0, -6, 0);
    stroke(canvas, x, y, -6, -11, -6, 11);
    draw_line(canvas, "symbol heavy", x - 2, y - 5, x - 2, y + 5);
    stroke(canvas, x, y, 3, -11, 3, 11);
    draw_line(canvas, "symbol heavy", x + 7, y - 5, x + 7, y + 5);
}

static void
wave(Canvas *canvas, double x, double y)
{
    double px[9], py[9];
    for (int i = 0; i < 9; i++) {
        px[i] = x - 4.0 + i;
        py[i] = y - 2.5 * sin(i * G_PI / 4.0);
    }
    draw_path(canvas, "symbol", 9, px, py, false);
}

static void
direct(Canvas *canvas, double x, double y)
{
    stroke(canvas, x, y, -4, -1.5, 4, -1.5);
    for (int i = -1; i <= 1; i++)
        stroke(canvas, x, y, 3.0 * i - 1, 1.5, 3.0 * i + 1, 1.5);
}

typedef void (*Sign)(Canvas *canvas, double x, double y);

/* A square cut across: what goes in above, what comes out below. */
static void
converter(Canvas *canvas, double x, double y, Sign in, Sign out)
{
    square(canvas, x, y);
    stroke(canvas, x, y, -SYMBOL_HALF, SYMBOL_HALF, SYMBOL_HALF, -SYMBOL_HALF);
    in(canvas, x - 5, y - 5);
    out(canvas, x + 5, y + 6);
}

static void
machine(Canvas *canvas, double x, double y, const char *text)
{
    draw_circle(canvas, "symbol", x, y, SYMBOL_HALF);
    letter(canvas, x, y, text);
}

static void
lamp(Canvas *canvas, double x, double y)
{
    double d = SYMBOL_HALF * G_SQRT2 / 2.0;
    draw_circle(canvas, "symbol", x, y, SYMBOL_HALF);
    stroke(canvas, x, y, -d, -d, d, d);
    stroke(canvas, x, y, -d, d, d, -d);
}

static void
heater(Canvas *canvas, double x, double y)
{
    draw_box(canvas, "symbol", x - SYMBOL_HALF, y - 5, 2 * SYMBOL_HALF, 10);
    for (int i = -1; i <= 1; i++)
        stroke(canvas, x, y, 5.5 * i, -5, 5.5 * i, 5);
}

static void
solar(Canvas *canvas, double x, double y)
{
    battery(canvas, x, y);
    for (int i = 0; i < 2; i++) {
        double tip_x = x + 9 - 5 * i, tip_y = y - 7 - 1 * i;
        draw_line(canvas, "symbol", tip_x + 5, tip_y - 5, tip_x, tip_y);
        draw_line(canvas, "symbol", tip_x, tip_y, tip_x + 3.5, tip_y - 0.5);
        draw_line(canvas, "symbol", tip_x, tip_y, tip_x + 0.5, tip_y - 3.5);
    }
}

/* A socket, from which the boat is fed. */
static void
shore(Canvas *canvas, double x, double y)
{
    double px[13], py[13];
    for (int i = 0; i < 13; i++) {
        double angle = G_PI * (i / 12.0 + 0.5);
        px[i] = x + 4 + 11 * cos(angle);
        py[i] = y - 11 * sin(angle);
    }
    stroke(canvas, x, y, -SYMBOL_HALF, 0, -7, 0);
    draw_path(canvas, "symbol", 13, px, py, false);
    stroke(canvas, x, y, -7, -11, -7, 11);
    wave(canvas, x + 7, y);
}

void
draw_symbol(Canvas *canvas, NodeKind kind, double x, double y)
{
    switch (kind) {
    case NODE_BOARD:
        draw_line(canvas, "busbar", x, y - SYMBOL_HALF, x, y + SYMBOL_HALF);
        break;
    case NODE_BATTERY:
        battery(canvas, x, y);
        break;
    case NODE_SHORE:
        shore(canvas, x, y);
        break;
    case NODE_GENERATOR:
    case NODE_ALTERNATOR:
        machine(canvas, x, y, "G");
        break;
    case NODE_SOLAR:
        solar(canvas, x, y);
        break;
    case NODE_CHARGER:
        converter(canvas, x, y, wave, direct);
        break;
    case NODE_INVERTER:
        converter(canvas, x, y, direct, wave);
        break;
    case NODE_CONVERTER:
        converter(canvas, x, y, direct, direct);
        break;
    case NODE_STARTER:
    case NODE_MOTOR:
        machine(canvas, x, y, "M");
        break;
    case NODE_LAMP:
        lamp(canvas, x, y);
        break;
    case NODE_HEATER:
        heater(canvas, x, y);
        break;
    case NODE_OTHER_LOAD:
        draw_box(canvas, "symbol", x - SYMBOL_HALF, y - 5, 2 * SYMBOL_HALF, 10);
        break;
    case NODE_UNKNOWN:
        machine(canvas, x, y, "?");
        break;
    }
}

const char *
symbol_words(NodeKind kind)
{
    static const char *const words[] = {
        [NODE_BOARD] = "busbar or board, as long as it has circuits",
        [NODE_BATTERY] = "battery",
        [NODE_SHORE] = "shore: the socket on the quay",
        [NODE_GENERATOR] = "generator",
        [NODE_ALTERNATOR] = "alternator",
        [NODE_SOLAR] = "solar panels",
        [NODE_CHARGER] = "charger",
        [NODE_INVERTER] = "inverter",
        [NODE_CONVERTER] = "converter to another direct voltage",
        [NODE_STARTER] = "starter",
        [NODE_MOTOR] = "motor",
        [NODE_LAMP] = "lamp",
        [NODE_HEATER] = "heating element",
        [NODE_OTHER_LOAD] = "any other load",
        [NODE_UNKNOWN] = "not written down",
    };
    return words[kind];
}

static void
fuse(Canvas *canvas, const char *wire, double x0, double x1, double y)
{
    double middle = (x0 + x1) / 2.0;
    draw_line(canvas, wire, x0, y, x1, y);
    draw_box(canvas, "symbol", middle - 9, y - 4, 18, 8);
}

/* A contact that opens, with the cross of what breaks a short circuit. */
static void
breaker(Canvas *canvas, const char *wire, double x0, double x1, double y)
{
    double middle = (x0 + x1) / 2.0;
    draw_line(canvas, wire, x0, y, middle - 8, y);
    draw_line(canvas, wire, middle + 8, y, x1, y);
    stroke(canvas, middle - 8, y, 0, 0, 15, -7);
    stroke(canvas, middle + 8, y, -3.5, -3.5, 3.5, 3.5);
    stroke(canvas, middle + 8, y, -3.5, 3.5, 3.5, -3.5);
}

void
draw_guard(Canvas *canvas, GuardKind kind, const char *wire, double x0, double x1, double y)
{
    if (kind == GUARD_FUSE)
        fuse(canvas, wire, x0, x1, y);
    else if (kind == GUARD_BREAKER)
        breaker(canvas, wire, x0, x1, y);
    else
        draw_line(canvas, wire, x0, y, x1, y);
}

char *
guard_text(const Guard *guard)
{
    if (guard->kind == GUARD_UNSAID)
        return g_strdup("");
    if (guard->kind == GUARD_NONE)
        return g_strdup("none");
    if (!isfinite(guard->rating_A))
        return g_strdup("?");
    char rating[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd(rating, sizeof rating, "%.4g", guard->rating_A);
    if (guard->kind == GUARD_BREAKER && guard->curve != '\0')
        return g_strdup_printf("%c%s", guard->curve, rating);
    return g_strdup_printf("%s\u00a0A", rating);
}
