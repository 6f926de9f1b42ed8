/* Rows of section tables: each macro checks that the member has the type its kind is read into. */
#pragma once

#include "boat/model.h"

#define QUANTITY(T, m, k, q, u, ...)                                                               \
    {                                                                                              \
        .key = k, .type = FIELD_QUANTITY, .kind = q, .offset = MEMBER(T, m, double), .unit = u,    \
        __VA_ARGS__                                                                                \
    }
#define COUNT(T, m, k, ...)                                                                        \
    {                                                                                              \
        .key = k, .type = FIELD_COUNT, .kind = Q_COUNT, .offset = MEMBER(T, m, double),            \
        .unit = "", __VA_ARGS__                                                                    \
    }
#define THREE_POINT(T, m, k, q, u, ...)                                                            \
    {                                                                                              \
        .key = k, .type = FIELD_THREE_POINT, .kind = q, .offset = MEMBER(T, m, ThreePoint),        \
        .unit = u, __VA_ARGS__                                                                     \
    }
#define RANGE(T, m, k, q, u, ...)                                                                  \
    {                                                                                              \
        .key = k, .type = FIELD_RANGE, .kind = q, .offset = MEMBER(T, m, Range), .unit = u,        \
        __VA_ARGS__                                                                                \
    }
#define MONEY(T, m, k, ...)                                                                        \
    {                                                                                              \
        .key = k, .type = FIELD_MONEY, .kind = Q_MONEY, .offset = MEMBER(T, m, double),            \
        .unit = "", __VA_ARGS__                                                                    \
    }
#define MONEY_RATE(T, m, k, ...)                                                                   \
    {                                                                                              \
        .key = k, .type = FIELD_MONEY, .kind = Q_MONEY_RATE, .offset = MEMBER(T, m, double),       \
        .unit = "per month", __VA_ARGS__                                                           \
    }
#define TEXT(T, m, k, ...)                                                                         \
    {                                                                                              \
        .key = k, .type = FIELD_TEXT, .offset = MEMBER(T, m, const char *), .unit = "",            \
        __VA_ARGS__                                                                                \
    }
#define CHOICE(T, m, k, c, ...)                                                                    \
    {                                                                                              \
        .key = k, .type = FIELD_CHOICE, .offset = MEMBER(T, m, int), .choices = c, .unit = "",     \
        __VA_ARGS__                                                                                \
    }
#define FLAG(T, m, k, ...)                                                                         \
    {                                                                                              \
        .key = k, .type = FIELD_FLAG, .offset = MEMBER(T, m, Flag), .unit = "", __VA_ARGS__        \
    }
#define DATE(T, m, k, ...)                                                                         \
    {                                                                                              \
        .key = k, .type = FIELD_DATE, .offset = MEMBER(T, m, Date), .unit = "", __VA_ARGS__        \
    }
#define TIME_OF_DAY(T, m, k, ...)                                                                  \
    {                                                                                              \
        .key = k, .type = FIELD_TIME, .kind = Q_TIME, .offset = MEMBER(T, m, double), .unit = "",  \
        .max = 86400.0, __VA_ARGS__                                                                \
    }
#define POSITION(T, m, k, ...)                                                                     \
    {                                                                                              \
        .key = k, .type = FIELD_POSITION, .offset = MEMBER(T, m, EarthPosition), .unit = "",       \
        __VA_ARGS__                                                                                \
    }
#define REFERENCE(T, m, k, r, ...)                                                                 \
    {                                                                                              \
        .key = k, .type = FIELD_REFERENCE, .offset = MEMBER(T, m, Reference), .refers_to = r,      \
        .unit = "", __VA_ARGS__                                                                    \
    }
#define DENSITY(T, m, k, ...)                                                                      \
    {                                                                                              \
        .key = k, .type = FIELD_DENSITY, .kind = Q_DENSITY, .offset = MEMBER(T, m, double),        \
        .unit = "kg/m3", .min = 500.0, .max = 2000.0, __VA_ARGS__                                  \
    }
#define WIRE(T, m, k, ...)                                                                         \
    {                                                                                              \
        .key = k, .type = FIELD_WIRE, .kind = Q_SMALL_AREA, .offset = MEMBER(T, m, double),        \
        .unit = "mm2", __VA_ARGS__                                                                 \
    }
#define ANY(T, m, k, ...)                                                                          \
    {                                                                                              \
        .key = k, .type = FIELD_ANY, .offset = MEMBER(T, m, Quantity), .unit = "", __VA_ARGS__     \
    }
#define LIST(T, m, k, r, ...)                                                                      \
    {                                                                                              \
        .key = k, .type = FIELD_LIST, .offset = MEMBER(T, m, List), .refers_to = r, .unit = "",    \
        __VA_ARGS__                                                                                \
    }
#define MAP(T, m, k, q, u, r, ...)                                                                 \
    {                                                                                              \
        .key = k, .type = FIELD_MAP, .kind = q, .offset = MEMBER(T, m, Map), .unit = u,            \
        .refers_to = r, __VA_ARGS__                                                                \
    }
#define WORDS(T, m, k, c, ...)                                                                     \
    {                                                                                              \
        .key = k, .type = FIELD_WORDS, .offset = MEMBER(T, m, unsigned), .choices = c, .unit = "", \
        __VA_ARGS__                                                                                \
    }
#define ROWS(T, m, k, ...)                                                                         \
    {                                                                                              \
        .key = k, .type = FIELD_ROWS, .kind = Q_LENGTH, .offset = MEMBER(T, m, Rows), .unit = "m", \
        __VA_ARGS__                                                                                \
    }

/* Places and sizes of one boat: nothing this project is for is longer than 200 m. */
#define PLACE_FIELD(T, m, k, t, lo, hi, ...)                                                       \
    {                                                                                              \
        .key = k, .type = t, .kind = Q_LENGTH, .offset = MEMBER(T, m, double), .unit = "m",        \
        .min = lo, .max = hi, __VA_ARGS__                                                          \
    }
#define ALONG(T, m, k, ...) PLACE_FIELD(T, m, k, FIELD_ALONG, -20.0, 200.0, __VA_ARGS__)
#define ACROSS(T, m, k, ...) PLACE_FIELD(T, m, k, FIELD_ACROSS, -30.0, 30.0, __VA_ARGS__)
#define HEIGHT(T, m, k, ...) PLACE_FIELD(T, m, k, FIELD_HEIGHT, -20.0, 60.0, __VA_ARGS__)
#define RANGE_FIELD(T, m, k, t, lo, hi, ...)                                                       \
    {                                                                                              \
        .key = k, .type = t, .kind = Q_LENGTH, .offset = MEMBER(T, m, Range), .unit = "m",         \
        .min = lo, .max = hi, __VA_ARGS__                                                          \
    }
#define ALONG_RANGE(T, m, k, ...) RANGE_FIELD(T, m, k, FIELD_ALONG_RANGE, -20.0, 200.0, __VA_ARGS__)
#define ACROSS_RANGE(T, m, k, ...)                                                                 \
    RANGE_FIELD(T, m, k, FIELD_ACROSS_RANGE, -30.0, 30.0, __VA_ARGS__)
#define HEIGHT_RANGE(T, m, k, ...)                                                                 \
    RANGE_FIELD(T, m, k, FIELD_HEIGHT_RANGE, -20.0, 60.0, __VA_ARGS__)

/* A place that is left out is a statement only across the boat: then the thing stands on the
 * centreline. */
#define WHERE(T)                                                                                   \
    ALONG(T, along_m, "along", .label = "Along",                                                   \
          .help = "From the stern (aftmost shell plate) forward, or from a mark."),                \
        ACROSS(T, across_m, "across", .label = "Across", .standard = 0.0, .has_standard = true,    \
               .help = "From the centreline, starboard or port; left out: on the centreline."),    \
        HEIGHT(T, height_m, "height", .label = "Height",                                           \
               .help = "Above the base line, or above a mark.")

#define N_FIELDS(f) (sizeof(f) / sizeof((f)[0]))
