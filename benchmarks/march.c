/* The march of coldsoak.night in plain C, as a measure of what its compiled Python costs.

Same steps, same arithmetic in the same order, function by function under the same names; only
the recorded track is left out, with what burners ask for (the march with a grid of zero). The types of the tables and every
named constant and coefficient come from march_constants.h, which c_march.py writes from the
Python modules before it compiles this file. */

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "march_constants.h"

#define MIN(a, b) ((b) < (a) ? (b) : (a))
#define MAX(a, b) ((b) > (a) ? (b) : (a))

typedef struct {
    double length;
    const weather_t *weather;
    int64_t weather_size;
    const double *sun; /* [count][weather_size] */
    const cylinder_t *cylinders;
    int64_t count;
    const supply_t *supply;
    const burner_t *burners;
    int64_t fires;
    const cabin_t *cabin;
    bool heated;
    const order_t *orders;
    int64_t orders_size;
} night_t;

/* night/records.py */

static int64_t find_row(const night_t *night, double seconds, int64_t row)
{
    while (row + 2 < night->weather_size && night->weather[row + 1].seconds <= seconds)
        row += 1;
    return row;
}

static double part_of_row(const night_t *night, int64_t row, double seconds)
{
    double begin = night->weather[row].seconds;
    return (seconds - begin) / (night->weather[row + 1].seconds - begin);
}

/* physics/fuel.py */

static double scaled(double temperature)
{
    return (1.0 / temperature - INVERSE_MIDDLE) / INVERSE_HALF;
}

#define CURVE(table, component, variable) \
    curve(table[component], sizeof table[0] / sizeof table[0][0], variable)

static inline double curve(const double *coefficients, int powers, double variable)
{
    double value = coefficients[0];
    for (int power = 1; power < powers; power++)
        value = value * variable + coefficients[power];
    return value;
}

static double raoult(double temperature, double variable, const double *liquid, double *vapor,
                     double *mean, double *third_mean, int *present)
{
    double total = 0.0, second_sum = 0.0, third_sum = 0.0;
    double slope_sum = 0.0, shift_sum = 0.0, square_sum = 0.0;
    *present = 0;
    for (int i = 0; i < N_COMPONENTS; i++) {
        vapor[i] = 0.0;
        if (liquid[i] > 0.0) {
            *present += 1;
            double own = exp(CURVE(LOG_PRESSURE, i, variable));
            vapor[i] = own;
            double second = CURVE(SECOND_ROOT, i, variable);
            double slope = second * second + POYNTING_VOLUME[i] / (FUEL_GAS_CONSTANT * temperature);
            double share = liquid[i] * own;
            total += share;
            second_sum += share * second;
            third_sum += share * CURVE(THIRD_ROOT, i, variable);
            square_sum += share * second * second;
            slope_sum += share * slope;
            shift_sum += share * slope * own;
        }
    }
    if (*present == 0) {
        *mean = *third_mean = 0.0;
        return 0.0;
    }
    *mean = second_sum / total;
    double slope = slope_sum / total - (square_sum / total - *mean * *mean);
    double rise = (slope * total - shift_sum / total) / (1.0 - slope * total);
    *third_mean = third_sum / total;
    return total * exp(rise);
}

static double bubble_pressure(double temperature, const double *liquid, double *vapor)
{
    double variable = scaled(temperature);
    double mean, third_mean;
    int present;
    double guess = raoult(temperature, variable, liquid, vapor, &mean, &third_mean, &present);
    if (present <= 1) {
        for (int i = 0; i < N_COMPONENTS; i++)
            vapor[i] = liquid[i] > 0.0 ? 1.0 : 0.0;
        return guess;
    }
    double shift = PAIR_TEMPERATURE / temperature - 1.0;
    double excess = 0.0, total = 0.0, slope_sum = 0.0;
    for (int i = 0; i < N_COMPONENTS; i++) {
        if (liquid[i] > 0.0) {
            double activity = 0.0;
            for (int j = 0; j < N_COMPONENTS; j++)
                activity += (ACTIVITY_LEVEL[i][j] + ACTIVITY_SLOPE[i][j] * shift) * liquid[j];
            excess += liquid[i] * activity;
            double own = vapor[i];
            double second = CURVE(SECOND_ROOT, i, variable);
            double third = CURVE(THIRD_ROOT, i, variable);
            double apart = (second - mean) * (second - mean);
            double triple = (3.0 * third - 2.0 * third_mean) * third_mean * third_mean;
            double slope = second * second + POYNTING_VOLUME[i] / (FUEL_GAS_CONSTANT * temperature);
            double real = slope * (guess - own) - apart * guess;
            real += 0.5 * (triple * guess * guess - third * third * third * own * own);
            vapor[i] = liquid[i] * own * exp(activity + real);
            total += vapor[i];
            slope_sum += vapor[i] * (slope - apart + triple * guess);
        }
    }
    for (int i = 0; i < N_COMPONENTS; i++)
        vapor[i] /= total;
    double steepness = MIN(slope_sum / total * guess, 0.8);
    return guess * exp((log(total / guess) - 0.5 * excess) / (1.0 - steepness));
}

static double vapor_molar_volume(double temperature, double pressure, const double *vapor)
{
    double variable = scaled(temperature);
    double second = 0.0, third = 0.0;
    for (int i = 0; i < N_COMPONENTS; i++) {
        if (vapor[i] > 0.0) {
            second += vapor[i] * CURVE(SECOND_ROOT, i, variable);
            third += vapor[i] * CURVE(THIRD_ROOT, i, variable);
        }
    }
    double first = second * second * pressure;
    double denser = 1.0 + first + first * first + third * third * third * pressure * pressure;
    return FUEL_GAS_CONSTANT * temperature / (pressure * denser);
}

static double liquid_molar_volume(double temperature, const double *liquid)
{
    double variable = scaled(temperature);
    double shift = PAIR_TEMPERATURE / temperature - 1.0;
    double total = 0.0, excess = 0.0;
    for (int i = 0; i < N_COMPONENTS; i++) {
        if (liquid[i] > 0.0) {
            total += liquid[i] * CURVE(LIQUID_VOLUME, i, variable);
            double pull = 0.0;
            for (int j = 0; j < i; j++)
                pull += (VOLUME_LEVEL[i][j] + VOLUME_SLOPE[i][j] * shift) * liquid[j];
            excess += liquid[i] * pull;
        }
    }
    return total * (1.0 + excess);
}

static double liquid_enthalpy(int component, double temperature)
{
    return CURVE(LIQUID_ENTHALPY, component, scaled(temperature));
}

static double liquid_heat_capacity(int component, double temperature)
{
    double variable = scaled(temperature);
    int top = sizeof LIQUID_ENTHALPY[0] / sizeof LIQUID_ENTHALPY[0][0] - 1;
    double slope = 0.0;
    for (int power = 0; power < top; power++)
        slope = slope * variable + (top - power) * LIQUID_ENTHALPY[component][power];
    return -slope / (INVERSE_HALF * temperature * temperature);
}

static double vaporization_enthalpy(int component, double temperature)
{
    double variable = scaled(temperature);
    double pressure = exp(CURVE(LOG_PRESSURE, component, variable));
    double root = CURVE(DEPARTURE_ROOT, component, variable);
    return CURVE(IDEAL_VAPORIZATION, component, variable) - root * root * pressure;
}

/* physics/air.py, convection.py, moistair.py, frost.py, shelter.py, vessel.py */

static double air_conductivity(double t)
{
    return -1.01289984e-3 + t * (1.13480799e-4 + t * (-9.08278689e-8 + t * 5.65738184e-11));
}

static double air_viscosity(double t)
{
    return -3.1363214e-7 + t * (8.21102511e-8 + t * (-7.96234647e-11 + t * 5.12535106e-14));
}

static double air_density(double temperature, double pressure)
{
    return pressure * AIR_MOLAR_MASS / (AIR_GAS_CONSTANT * temperature);
}

static double free_nusselt(double still, double factor, double rayleigh, double *power)
{
    double moving = factor * pow(rayleigh, 1.0 / 6.0);
    double root = still + moving;
    *power = moving / (3.0 * root);
    return root * root;
}

static double wind_nusselt(double factor, double reynolds)
{
    double root = sqrt(reynolds / 282e3);
    double turbulent = pow(1.0 + root * sqrt(sqrt(root)), 0.8);
    return 0.3 + factor * sqrt(282e3) * root * turbulent;
}

static double ln_over_water(double t)
{
    double poly = t * (-4.8640239e-2 + t * (4.1764768e-5 - t * 1.4452093e-8));
    return -5.8002206e3 / t + 1.3914993 + poly + 6.5459673 * log(t);
}

static double ln_over_ice(double t)
{
    double poly =
        t * (-9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 - t * 9.484024e-13)));
    return -5.6745359e3 / t + 6.3925247 + poly + 4.1635019 * log(t);
}

static double slope_over_water(double t)
{
    double poly = -4.8640239e-2 + t * (2 * 4.1764768e-5 - t * 3 * 1.4452093e-8);
    return (5.8002206e3 / t + 6.5459673) / t + poly;
}

static double slope_over_ice(double t)
{
    double poly = t * (2 * 6.2215701e-7 + t * (3 * 2.0747825e-9 - t * 4 * 9.484024e-13));
    return (5.6745359e3 / t + 4.1635019) / t - 9.677843e-3 + poly;
}

static double saturation(double temperature, double *rise)
{
    if (temperature < TRIPLE_POINT) {
        double over_ice = exp(ln_over_ice(temperature));
        *rise = over_ice * slope_over_ice(temperature);
        return over_ice;
    }
    double over_water = exp(ln_over_water(temperature));
    *rise = over_water * slope_over_water(temperature);
    return over_water;
}

static double vaporization_heat(double temperature)
{
    return 2500.99e3 - 2376.2 * (temperature - 273.15);
}

static double frost_resistance(double frost)
{
    return MAX(frost, 0.0) / (FROST_DENSITY * FROST_CONDUCTIVITY);
}

static double covered_share(double frost)
{
    return 1.0 - exp(-MAX(frost, 0.0) / COVERING_MASS);
}

static double vapor_rate(double coefficient, double difference, double pressure)
{
    return MASS_PER_HEAT * coefficient * difference / pressure;
}

static double infiltration(double leakage_area, double inside, double outside, double wind)
{
    double drive = STACK_COEFFICIENT * fabs(inside - outside) + WIND_COEFFICIENT * wind * wind;
    return 10.0 * leakage_area * sqrt(drive);
}

static double leakage_conductance(double leakage_area, double inside, double outside, double wind,
                                  double pressure)
{
    double density = pressure / (GAS_CONSTANT_OF_AIR * outside);
    return HEAT_OF_AIR * density * infiltration(leakage_area, inside, outside, wind);
}

static double level(const double table[LEVELS][3], double fill, double *contact)
{
    double low = MIN(MAX(fill, 0.0), 1.0);
    double x = low < 0.5 ? 0.5 * sqrt(sqrt(2.0 * low)) : 1.0 - 0.5 * sqrt(sqrt(2.0 - 2.0 * low));
    double place = x * (LEVELS - 1);
    int64_t row = MIN((int64_t)place, LEVELS - 2);
    double part = place - row;
    double rest = 1.0 - part;
    *contact = rest * table[row][2] + part * table[row + 1][2];
    return rest * table[row][1] + part * table[row + 1][1];
}

/* physics/film.py */

typedef struct {
    double air, wind, vapor_pressure, sky, sun, pressure;
} outside_t;

static double rayleigh_number(double difference, double mean, double length, double pressure)
{
    double rho = air_density(mean, pressure);
    double buoyancy = GRAVITY * difference * rho * rho * length * length * length;
    double diffusion = mean * air_viscosity(mean) * air_conductivity(mean);
    return buoyancy * AIR_HEAT_CAPACITY / diffusion;
}

static double free_upright(double difference, double mean, double height, double pressure,
                           double *power)
{
    double factor = 0.32670859 + mean * (-1.0785349e-5 + mean * 9.2856113e-9);
    double rayleigh = rayleigh_number(difference, mean, height, pressure);
    double nusselt = free_nusselt(UPRIGHT_STILL, factor, rayleigh, power);
    return nusselt * air_conductivity(mean) / height;
}

static double free_horizontal(double difference, double mean, double diameter, double pressure,
                              double *power)
{
    double factor = 0.32363436 + mean * (-1.1110916e-5 + mean * 9.5710796e-9);
    double rayleigh = rayleigh_number(difference, mean, diameter, pressure);
    double nusselt = free_nusselt(HORIZONTAL_STILL, factor, rayleigh, power);
    return nusselt * air_conductivity(mean) / diameter;
}

static double forced(double wind, double mean, double diameter, double pressure)
{
    double factor = 0.50432129 + mean * (-8.8526243e-5 + mean * 7.7972587e-8);
    double reynolds = wind * diameter * air_density(mean, pressure) / air_viscosity(mean);
    return wind_nusselt(factor, reynolds) * air_conductivity(mean) / diameter;
}

static double convection(double surface, const outside_t *outside, const cylinder_t *wall,
                         double *fall)
{
    double difference = outside->air - surface, mean = 0.5 * (outside->air + surface);
    double square = difference * difference + STIR * STIR;
    double power, free_part;
    if (wall->upright)
        free_part = free_upright(sqrt(square), mean, wall->height, outside->pressure, &power);
    else
        free_part = free_horizontal(sqrt(square), mean, wall->diameter, outside->pressure, &power);
    double wind = forced(outside->wind, mean, wall->diameter, outside->pressure);
    double free_cube = free_part * free_part * free_part;
    double cubes = free_cube + wind * wind * wind;
    double blend = cbrt(cubes);
    double growth = power * difference / square + 0.5 * (4.68 * power - 0.90) / mean;
    double change =
        growth * free_cube + 0.5 * (1.78 * 0.6 - 0.90) / mean * (cubes - free_cube);
    *fall = blend * change / cubes;
    return blend;
}

static double fourth_power(double x)
{
    double square = x * x;
    return square * square;
}

static double radiation(double surface, const outside_t *outside, const cylinder_t *wall)
{
    double around = (1.0 - wall->sky_view) * fourth_power(outside->air)
                    + wall->sky_view * fourth_power(outside->sky);
    return wall->emissivity * STEFAN_BOLTZMANN * (around - fourth_power(surface));
}

typedef struct {
    double dry, dry_slope, latent, slope, heat;
} intake_t;

static intake_t intake(double surface, double settling_heat, double covered,
                       const outside_t *outside, const cylinder_t *wall)
{
    double fall;
    double coefficient = convection(surface, outside, wall, &fall);
    double dry = coefficient * (outside->air - surface) + radiation(surface, outside, wall)
                 + wall->absorptivity * outside->sun;
    double dry_slope = coefficient + fall * (outside->air - surface)
                       + 4.0 * wall->emissivity * STEFAN_BOLTZMANN * (surface * surface * surface);
    double rise;
    double over_surface = saturation(surface, &rise);
    double difference = outside->vapor_pressure - over_surface;
    double share = difference > 0.0 ? 1.0 : covered;
    double heat = difference > 0.0 ? settling_heat : SUBLIMATION_HEAT;
    double moving = share * heat * vapor_rate(1.0, 1.0, outside->pressure);
    double latent_slope = moving * (coefficient * rise + fall * difference);
    double slope = dry_slope + MAX(latent_slope, -0.9 * dry_slope);
    return (intake_t){dry, dry_slope, moving * coefficient * difference, slope, heat};
}

static double inside_film(double liquid)
{
    return 145.8 + 0.25 * (liquid - 273.15);
}

static double inside_difference(double total, double resistance, double film)
{
    double size = fabs(total);
    double d = size / (1.0 + resistance * film * cbrt(size));
    for (int i = 0; i < 8; i++) {
        double root = cbrt(d);
        double rest = size - d * (1.0 + resistance * film * root);
        d += rest / (1.0 + 4.0 / 3.0 * resistance * film * root);
    }
    return total > 0.0 ? d : -d;
}

typedef struct {
    double flux, surface, latent, water;
} balance_t;

static balance_t balance(double start, double low, double high, double sink, double settling_heat,
                         double covered, double resistance, double liquid,
                         const outside_t *outside, const cylinder_t *wall)
{
    double film = inside_film(liquid);
    double d = start, moved = 0.0;
    intake_t taken = {0};
    for (int i = 0; i < 60; i++) {
        double root = cbrt(fabs(d));
        double conducted = film * d * root, gain = 4.0 / 3.0 * film * root;
        double lift = 1.0 + resistance * gain;
        double surface = liquid + d + resistance * conducted;
        taken = intake(surface, settling_heat, covered, outside, wall);
        double gap = taken.dry + taken.latent - sink - conducted;
        if (gap > 0.0)
            low = d;
        else
            high = d;
        double next = d + gap / (gain + taken.slope * lift);
        bool newton = low <= next && next <= high;
        next = newton ? next : 0.5 * (low + high);
        double step = next - d;
        moved = step * lift;
        bool close = newton && fabs(moved) < 5e-4 && fabs(step) < 0.01 * fabs(d);
        d = next;
        if (close || fabs(moved) < 1e-6)
            break;
    }
    double latent = taken.latent - (taken.slope - taken.dry_slope) * moved;
    double conducted = film * d * cbrt(fabs(d));
    double surface = liquid + d + resistance * conducted;
    return (balance_t){conducted, surface, latent, latent / taken.heat};
}

static double first_guess(double flux, double slope, double resistance, double film)
{
    double through = (fabs(flux) + 1e-12) / (1.0 + slope * resistance);
    double inner = 1.0 / sqrt(film * sqrt(film * through));
    return flux / (1.0 + slope * (resistance + inner));
}

static double film_difference(double flux, double film)
{
    double root = sqrt(flux / film);
    return root * sqrt(root);
}

static balance_t thaw(double start, double low, double high, double covered, double resistance,
                      double liquid, const outside_t *outside, const cylinder_t *wall,
                      double *growth)
{
    double film = inside_film(liquid);
    double d = inside_difference(FREEZING - liquid, resistance, film);
    double conducted = film * d * cbrt(fabs(d));
    double dew_heat = vaporization_heat(FREEZING);
    intake_t taken = intake(FREEZING, dew_heat, covered, outside, wall);
    double surplus = taken.dry + taken.latent - conducted;
    double settling = MAX(taken.latent, 0.0) / taken.heat;
    if (surplus + FUSION_HEAT * settling <= 0.0) {
        balance_t cold = balance(d, low, d, 0.0, SUBLIMATION_HEAT, covered, resistance, liquid,
                                 outside, wall);
        *growth = cold.water;
        return cold;
    }
    if (surplus <= 0.0) {
        double latent = taken.latent - surplus;
        *growth = settling - (surplus + FUSION_HEAT * settling) / FUSION_HEAT;
        return (balance_t){conducted, FREEZING, latent, settling};
    }
    double melting = covered * surplus;
    double first = covered * d + (1.0 - covered) * MAX(start, d);
    balance_t warm =
        balance(first, d, high, melting, dew_heat, covered, resistance, liquid, outside, wall);
    *growth = MIN(warm.water, 0.0) - melting / FUSION_HEAT;
    return (balance_t){warm.flux, warm.surface, warm.latent - melting, warm.water};
}

typedef struct {
    double flux, frost_flux, frost_rate, surface, bare_flux, bare_conductance;
} wall_heat_t;

static wall_heat_t wall_heat(double liquid, double frost, const outside_t *outside,
                             const cylinder_t *wall)
{
    double film = inside_film(liquid);
    double covered = covered_share(frost);
    double resistance =
        wall->cover + frost_resistance(frost) + wall->thickness / wall->conductivity;
    intake_t bare = intake(liquid, SUBLIMATION_HEAT, covered, outside, wall);
    double flux = bare.dry + bare.latent;
    double furthest = copysign(film_difference(fabs(flux), film), flux);
    double low = MIN(furthest, 0.0), high = MAX(furthest, 0.0);
    double through = first_guess(flux, bare.slope, resistance, film);
    double d = copysign(film_difference(fabs(through), film), flux);
    double surface = liquid + d + resistance * through;
    double growth = 0.0;
    balance_t settled = {0};
    if (surface < FREEZING) {
        settled = balance(d, low, high, 0.0, SUBLIMATION_HEAT, covered, resistance, liquid,
                          outside, wall);
        growth = settled.water;
        surface = settled.surface;
    }
    if (surface >= FREEZING)
        settled = thaw(d, low, high, covered, resistance, liquid, outside, wall, &growth);
    double share = 1.0 / (1.0 + bare.dry_slope * wall->cover);
    return (wall_heat_t){settled.flux,    settled.latent,   growth,
                         settled.surface, bare.dry * share, bare.dry_slope * share};
}

static double fin_heat(double bare_flux, double bare_conductance, const cylinder_t *wall,
                       double dry_area, double contact_length)
{
    if (contact_length <= 0.0)
        return 0.0;
    double m = sqrt(bare_conductance / (wall->conductivity * wall->thickness));
    return bare_flux * contact_length * tanh(m * dry_area / contact_length) / m;
}

/* night/contents.py */

static double sum_of(const double *moles)
{
    double total = 0.0;
    for (int k = 0; k < N_COMPONENTS; k++)
        total += moles[k];
    return total;
}

static void forget(contents_t *contents, const double *moles)
{
    for (int k = 0; k < N_COMPONENTS; k++)
        contents->ratio[k] = 1.0;
    contents->vapor_moles = 1e-3 * sum_of(moles);
}

static double pressure_alone(double temperature, double room, const double *vapor, double guess)
{
    double pressure = guess;
    for (int i = 0; i < 3; i++) {
        double ideal = FUEL_GAS_CONSTANT * temperature / pressure;
        double less = ideal - vapor_molar_volume(temperature, pressure, vapor);
        pressure = FUEL_GAS_CONSTANT * temperature / (room + less);
    }
    return pressure;
}

static void weigh_energy(double temperature, const double *moles, double volume,
                         contents_t *contents)
{
    double enthalpy = 0.0, sensible = 0.0, latent = 0.0, latent_slope = 0.0, vapor_enthalpy = 0.0;
    for (int k = 0; k < N_COMPONENTS; k++) {
        if (moles[k] > 0.0) {
            double h = liquid_enthalpy(k, temperature);
            double boil = vaporization_enthalpy(k, temperature);
            enthalpy += moles[k] * h;
            sensible += moles[k] * liquid_heat_capacity(k, temperature);
            latent += contents->vapor[k] * boil;
            latent_slope +=
                contents->vapor[k] * (vaporization_enthalpy(k, temperature + 1.0) - boil);
            vapor_enthalpy += contents->vapor[k] * (h + boil);
        }
    }
    contents->latent = latent;
    contents->vapor_enthalpy = vapor_enthalpy;
    contents->sensible_capacity = sensible;
    contents->heat_capacity = sensible + latent_slope * contents->vapor_moles;
    contents->energy =
        enthalpy + contents->vapor_moles * latent - contents->pressure * volume;
}

static void settle(double temperature, const double *moles, double volume, contents_t *contents)
{
    double total = sum_of(moles);
    double ratio = contents->vapor_moles / MAX(total - contents->vapor_moles, 1e-12 * total);
    double *liquid = contents->liquid, *vapor = contents->vapor;
    double scale = 0.0;
    for (int k = 0; k < N_COMPONENTS; k++) {
        liquid[k] = moles[k] / (1.0 + contents->ratio[k] * ratio);
        scale += liquid[k];
    }
    for (int k = 0; k < N_COMPONENTS; k++)
        liquid[k] /= scale;
    double pressure = bubble_pressure(temperature, liquid, vapor);
    double v_vapor = vapor_molar_volume(temperature, pressure, vapor);
    double v_liquid = liquid_molar_volume(temperature, liquid);
    for (int k = 0; k < N_COMPONENTS; k++)
        if (liquid[k] > 0.0)
            contents->ratio[k] = vapor[k] / liquid[k];
    double saturated = (volume - total * v_liquid) / (v_vapor - v_liquid);
    bool dry = saturated >= total;
    if (dry) {
        for (int k = 0; k < N_COMPONENTS; k++)
            vapor[k] = moles[k] / total;
        pressure = pressure_alone(temperature, volume / total, vapor, pressure * total / saturated);
    }
    contents->pressure = pressure;
    contents->vapor_moles = MIN(saturated, total);
    contents->liquid_volume = (total - contents->vapor_moles) * v_liquid;
    weigh_energy(temperature, moles, volume, contents);
    if (dry) {
        contents->draw_heat = pressure * volume / total;
        contents->heat_capacity -= volume * pressure / temperature;
    } else {
        double slope = contents->latent / (temperature * (v_vapor - v_liquid));
        double store = contents->vapor_moles * (slope / pressure - 1.0 / temperature);
        contents->draw_heat = contents->latent * v_vapor / (v_vapor - v_liquid);
        contents->heat_capacity += contents->latent * store - volume * slope;
    }
}

static void settle_fully(double temperature, const double *moles, double volume,
                         contents_t *contents)
{
    for (int i = 0; i < 200; i++) {
        double vapor_moles = contents->vapor_moles;
        double lightest = contents->ratio[0];
        settle(temperature, moles, volume, contents);
        bool still = fabs(contents->vapor_moles - vapor_moles) <= 1e-12 * sum_of(moles);
        if (still && fabs(contents->ratio[0] - lightest) <= 1e-10 * lightest)
            return;
    }
}

/* night/cylinder.py */

typedef struct {
    double wall, frost, heater, frost_rate, wetted;
} warmth_t;

static outside_t outside_at(const night_t *night, int64_t row, double seconds, int64_t c)
{
    double after = part_of_row(night, row, seconds);
    double before = 1.0 - after;
    const weather_t *low = &night->weather[row], *high = &night->weather[row + 1];
    const double *sun = night->sun + c * night->weather_size;
    return (outside_t){
        before * low->air + after * high->air,
        night->cylinders[c].wind_factor * (before * low->wind + after * high->wind),
        before * low->vapor_pressure + after * high->vapor_pressure,
        before * low->sky + after * high->sky,
        before * sun[row] + after * sun[row + 1],
        night->supply->station_pressure,
    };
}

static warmth_t warmth(double temperature, double frost, double liquid_volume,
                       const outside_t *outside, const cylinder_t *cylinder)
{
    double contact;
    double wetted = level(cylinder->levels, liquid_volume / cylinder->volume, &contact);
    wetted = MAX(wetted, LEAST_WETTED * cylinder->area);
    wall_heat_t film = wall_heat(temperature, frost, outside, cylinder);
    double dry = cylinder->area - wetted;
    double fin = fin_heat(film.bare_flux, film.bare_conductance, cylinder, dry, contact);
    double warmer = MAX(0.0, (cylinder->heater_below - temperature) / HEATER_BAND);
    double share = MIN(1.0, warmer);
    return (warmth_t){
        wetted * (film.flux - film.frost_flux) + fin,
        wetted * film.frost_flux,
        share * cylinder->heater,
        film.frost_rate,
        wetted,
    };
}

static void cylinder_rates(const contents_t *contents, const warmth_t *warm, double wall_capacity,
                           double draw, double *rates)
{
    double heat = warm->wall + warm->frost + warm->heater - draw * contents->draw_heat;
    rates[TEMPERATURE] = heat / (contents->heat_capacity + wall_capacity * warm->wetted);
    rates[FROST] = warm->frost_rate;
    for (int k = 0; k < N_COMPONENTS; k++)
        rates[MOLES + k] = -draw * contents->vapor[k];
    rates[WALL_HEAT] = warm->wall;
    rates[FROST_HEAT] = warm->frost;
    rates[HEATER_HEAT] = warm->heater;
    rates[CARRIED_OUT] = draw * contents->vapor_enthalpy;
}

/* night/supply.py */

static double highest(const contents_t *contents, const int64_t *side, int64_t count, int which)
{
    double found = 0.0;
    for (int64_t c = 0; c < count; c++)
        if (side[c] == which)
            found = MAX(found, contents[c].pressure);
    return found;
}

static void share_side(const contents_t *contents, const int64_t *side, int64_t count, int which,
                       double part, double *share)
{
    double floor = 0.0, header;
    for (;;) {
        double total = 0.0;
        int64_t open = 0;
        for (int64_t c = 0; c < count; c++) {
            if (side[c] == which && contents[c].pressure > floor) {
                total += contents[c].pressure;
                open += 1;
            }
        }
        header = (total - BAND) / MAX(open, 1);
        if (header <= floor || open == 1)
            break;
        floor = header;
    }
    for (int64_t c = 0; c < count; c++)
        if (side[c] == which)
            share[c] = part * MAX(0.0, contents[c].pressure - header) / BAND;
}

static void shares(const contents_t *contents, const int64_t *side, int64_t count,
                   double changeover, double *share)
{
    for (int64_t c = 0; c < count; c++)
        share[c] = 0.0;
    double first = highest(contents, side, count, 0);
    double second = highest(contents, side, count, 1);
    double part;
    if (second == 0.0) {
        part = 1.0;
    } else if (first == 0.0) {
        part = 0.0;
    } else {
        double above = MAX(0.0, first - changeover);
        above = MAX(above, first - second) / BAND;
        part = MIN(1.0, above);
    }
    if (first > 0.0)
        share_side(contents, side, count, 0, part, share);
    if (second > 0.0)
        share_side(contents, side, count, 1, 1.0 - part, share);
}

static double feed_pressure(const contents_t *contents, const int64_t *side, int64_t count)
{
    double first = highest(contents, side, count, 0);
    double second = highest(contents, side, count, 1);
    return MAX(first, second);
}

/* night/rates.py */

static void settle_cylinder(int64_t c, const double *state, const night_t *night,
                            contents_t *contents)
{
    const double *own = state + c * WIDTH;
    settle(own[TEMPERATURE], own + MOLES, night->cylinders[c].volume, &contents[c]);
}

static void settle_cylinder_fully(int64_t c, const double *state, const night_t *night,
                                  contents_t *contents)
{
    const double *own = state + c * WIDTH;
    settle_fully(own[TEMPERATURE], own + MOLES, night->cylinders[c].volume, &contents[c]);
}

static double weighted(const double *vapor, const double *values)
{
    double total = 0.0;
    for (int k = 0; k < N_COMPONENTS; k++)
        total += vapor[k] * values[k];
    return total;
}

static void rates_at(double seconds, int64_t row, const double *state, const night_t *night,
                     const bool *live, const int64_t *side, double asked, contents_t *contents,
                     double *share, double *wetted, double *rates)
{
    int64_t count = night->count;
    for (int64_t c = 0; c < count; c++)
        if (live[c])
            settle_cylinder(c, state, night, contents);
    if (asked > 0.0)
        shares(contents, side, count, night->supply->changeover, share);
    double burned = 0.0;
    for (int64_t c = 0; c < count; c++) {
        if (!live[c])
            continue;
        int64_t start = c * WIDTH;
        const contents_t *inside = &contents[c];
        const cylinder_t *cylinder = &night->cylinders[c];
        outside_t outside = outside_at(night, row, seconds, c);
        warmth_t warm = warmth(state[start + TEMPERATURE], state[start + FROST],
                               inside->liquid_volume, &outside, cylinder);
        wetted[c] = warm.wetted;
        double draw = 0.0;
        if (asked > 0.0 && share[c] > 0.0) {
            draw = share[c] * asked / weighted(inside->vapor, GROSS_HEATING_VALUE);
            burned += draw * weighted(inside->vapor, MOLAR_MASS);
        }
        cylinder_rates(inside, &warm, cylinder->wall_capacity, draw, rates + start);
    }
    rates[count * WIDTH] = burned;
}

/* night/step.py; stages are rows of `size` numbers */

static void combine(const double *state, double step, double *stages, int64_t size, double a,
                    double b, double c)
{
    const double *first = stages + FIRST * size, *second = stages + SECOND * size,
                 *third = stages + THIRD * size;
    double *trial = stages + TRIAL * size;
    for (int64_t i = 0; i < size; i++)
        trial[i] = state[i] + step * (a * first[i] + b * second[i] + c * third[i]);
}

static void to_second(const double *state, double step, double *stages, int64_t size)
{
    combine(state, step, stages, size, 0.5, 0.0, 0.0);
}

static void to_third(const double *state, double step, double *stages, int64_t size)
{
    combine(state, step, stages, size, 0.0, 0.75, 0.0);
}

static void to_end(const double *state, double step, double *stages, int64_t size)
{
    combine(state, step, stages, size, 2.0 / 9.0, 1.0 / 3.0, 4.0 / 9.0);
}

static double defect(const double *stages, int64_t size, int64_t i, double step)
{
    return fabs(step
                * (-5.0 / 72.0 * stages[FIRST * size + i] + stages[SECOND * size + i] / 12.0
                   + stages[THIRD * size + i] / 9.0 - stages[LAST * size + i] / 8.0));
}

static double next_step(double step, double error, double tolerance)
{
    if (!(error < 1e30))
        return step * SMALLEST_SHRINK;
    double factor = SAFETY * pow(tolerance / MAX(error, 1e-30), 1.0 / 3.0);
    factor = MAX(SMALLEST_SHRINK, factor);
    return step * MIN(LARGEST_GROWTH, factor);
}

static double between(const double *state, const double *stages, int64_t size, int64_t i,
                      double step, double part)
{
    double low = state[i];
    double rise = stages[TRIAL * size + i] - low;
    double at_start = step * stages[FIRST * size + i] - rise;
    double at_end = rise - step * stages[LAST * size + i];
    return low + part * rise + part * (1.0 - part) * ((1.0 - part) * at_start + part * at_end);
}

static double crossing(const double *state, const double *stages, int64_t size, int64_t i,
                       double step, double value)
{
    double low = 0.0, high = 1.0;
    double sign = stages[TRIAL * size + i] > value ? 1.0 : -1.0;
    for (int n = 0; n < 40; n++) {
        double middle = 0.5 * (low + high);
        if (sign * (between(state, stages, size, i, step, middle) - value) > 0.0)
            high = middle;
        else
            low = middle;
    }
    return high;
}

/* night/feed.py */

typedef struct {
    int64_t size;
    double *state, *stages;
    contents_t *contents;
    double *share, *wetted;
    book_t *books;
    double pace[2];
} feed_t;

static void first_rates(double seconds, int64_t row, feed_t *feed, const night_t *night,
                        const bool *live, const int64_t *side, double asked)
{
    rates_at(seconds, row, feed->state, night, live, side, asked, feed->contents, feed->share,
             feed->wetted, feed->stages + FIRST * feed->size);
}

static void open_books(feed_t *feed, const night_t *night)
{
    int64_t count = night->count;
    bool *everyone = calloc(count, sizeof *everyone);
    int64_t *idle = calloc(count, sizeof *idle);
    for (int64_t c = 0; c < count; c++) {
        everyone[c] = true;
        idle[c] = -1;
        forget(&feed->contents[c], night->cylinders[c].moles);
        settle_cylinder_fully(c, feed->state, night, feed->contents);
        feed->books[c].energy = feed->contents[c].energy;
        feed->books[c].lowest_pressure = feed->contents[c].pressure;
        feed->books[c].vapor_moles = feed->contents[c].vapor_moles;
    }
    first_rates(0.0, find_row(night, 0.0, 0), feed, night, everyone, idle, 0.0);
    for (int64_t c = 0; c < count; c++)
        feed->books[c].wetted = feed->wetted[c];
    memset(feed->stages, 0, STAGES * feed->size * sizeof(double));
    free(everyone);
    free(idle);
}

static void begin(feed_t *feed, const night_t *night)
{
    for (int64_t c = 0; c < night->count; c++) {
        double *own = feed->state + c * WIDTH;
        own[TEMPERATURE] = night->cylinders[c].temperature;
        for (int k = 0; k < N_COMPONENTS; k++)
            own[MOLES + k] = night->cylinders[c].moles[k];
        feed->books[c].lowest_temperature = night->cylinders[c].temperature;
        feed->books[c].lowest_margin = NAN;
    }
    feed->pace[0] = FIRST_STEP;
    feed->pace[1] = 0.0;
    open_books(feed, night);
}

static bool in_range(const double *trial, const bool *live, int64_t count)
{
    for (int64_t c = 0; c < count; c++) {
        double temperature = trial[c * WIDTH + TEMPERATURE];
        double moles = sum_of(trial + c * WIDTH + MOLES);
        if (live[c] && !(COLDEST < temperature && temperature < HOTTEST && moles > 0.0))
            return false;
    }
    return true;
}

static bool take_step(double seconds, double step, int64_t row, feed_t *feed, const night_t *night,
                      const bool *live, const int64_t *side, double asked)
{
    int64_t size = feed->size, count = night->count;
    double *state = feed->state, *stages = feed->stages, *trial = stages + TRIAL * size;
    to_second(state, step, stages, size);
    if (!in_range(trial, live, count))
        return false;
    rates_at(seconds + 0.5 * step, row, trial, night, live, side, asked, feed->contents,
             feed->share, feed->wetted, stages + SECOND * size);
    to_third(state, step, stages, size);
    if (!in_range(trial, live, count))
        return false;
    rates_at(seconds + 0.75 * step, row, trial, night, live, side, asked, feed->contents,
             feed->share, feed->wetted, stages + THIRD * size);
    to_end(state, step, stages, size);
    if (!in_range(trial, live, count))
        return false;
    rates_at(seconds + step, row, trial, night, live, side, asked, feed->contents, feed->share,
             feed->wetted, stages + LAST * size);
    return true;
}

static double step_error(const feed_t *feed, double step, const bool *live, int64_t count)
{
    const double *stages = feed->stages;
    int64_t size = feed->size;
    double worst = 0.0;
    for (int64_t c = 0; c < count; c++) {
        if (live[c]) {
            int64_t start = c * WIDTH;
            double warming = defect(stages, size, start + TEMPERATURE, step);
            worst = MAX(worst, warming);
            double frosting = defect(stages, size, start + FROST, step) / FROST_TOLERANCE;
            worst = MAX(worst, frosting);
            double total = 0.0, moved = 0.0;
            for (int k = 0; k < N_COMPONENTS; k++) {
                total += feed->state[start + MOLES + k];
                double moving = defect(stages, size, start + MOLES + k, step);
                moved = MAX(moved, moving);
            }
            moved = moved / (SHARE_TOLERANCE * total);
            worst = MAX(worst, moved);
        }
    }
    return worst;
}

static void settle_again(feed_t *feed, const night_t *night, const bool *live)
{
    for (int64_t c = 0; c < night->count; c++)
        if (live[c])
            settle_cylinder_fully(c, feed->state, night, feed->contents);
}

static double supply_crossing(double step, feed_t *feed, const night_t *night, const bool *live,
                              const int64_t *side)
{
    double low = 0.0, high = 1.0;
    double *scratch = malloc(feed->size * sizeof *scratch);
    for (int n = 0; n < 40; n++) {
        double middle = 0.5 * (low + high);
        for (int64_t i = 0; i < feed->size; i++)
            scratch[i] = between(feed->state, feed->stages, feed->size, i, step, middle);
        for (int64_t c = 0; c < night->count; c++)
            if (live[c])
                settle_cylinder(c, scratch, night, feed->contents);
        if (feed_pressure(feed->contents, side, night->count) < night->supply->minimum)
            high = middle;
        else
            low = middle;
    }
    free(scratch);
    return high;
}

static double close_energy(int64_t c, feed_t *feed, const night_t *night)
{
    int64_t start = c * WIDTH;
    double *trial = feed->stages + TRIAL * feed->size + start;
    const double *state = feed->state + start;
    book_t *book = &feed->books[c];
    const contents_t *contents = &feed->contents[c];
    double passed = 0.0;
    passed += trial[WALL_HEAT] - state[WALL_HEAT];
    passed += trial[FROST_HEAT] - state[FROST_HEAT];
    passed += trial[HEATER_HEAT] - state[HEATER_HEAT];
    passed -= trial[CARRIED_OUT] - state[CARRIED_OUT];
    double wall = night->cylinders[c].wall_capacity * 0.5 * (book->wetted + feed->wetted[c]);
    double rise = trial[TEMPERATURE] - state[TEMPERATURE];
    double missing = book->energy + passed - wall * rise - contents->energy;
    double correction = missing / (contents->heat_capacity + wall);
    trial[TEMPERATURE] += correction;
    double given = -wall * (rise + correction);
    book->energy += passed + given;
    book->wetted = feed->wetted[c];
    book->wall_energy += given;
    return given;
}

static void settle_books(int64_t c, feed_t *feed, const night_t *night)
{
    book_t *book = &feed->books[c];
    const contents_t *contents = &feed->contents[c];
    double wall = night->cylinders[c].wall_capacity * book->wetted;
    for (int i = 0; i < 20; i++) {
        settle_cylinder_fully(c, feed->state, night, feed->contents);
        double missing = book->energy - contents->energy;
        if (fabs(missing) <= 1e-12 * fabs(book->energy))
            return;
        double correction = missing / (contents->heat_capacity + wall);
        feed->state[c * WIDTH + TEMPERATURE] += correction;
        book->energy -= wall * correction;
        book->wall_energy -= wall * correction;
    }
}

static void keep_books(int64_t c, feed_t *feed, const night_t *night, bool feeding, double *stores)
{
    int64_t start = c * WIDTH;
    const double *state = feed->state + start;
    const double *trial = feed->stages + TRIAL * feed->size + start;
    book_t *book = &feed->books[c];
    const contents_t *contents = &feed->contents[c];
    double given = close_energy(c, feed, night);
    double temperature = trial[TEMPERATURE];
    book->lowest_temperature = MIN(book->lowest_temperature, temperature);
    book->lowest_pressure = MIN(book->lowest_pressure, contents->pressure);
    if (feeding && feed->share[c] > 0.0) {
        double margin = contents->pressure - night->supply->minimum;
        book->lowest_margin =
            isnan(book->lowest_margin) ? margin : MIN(book->lowest_margin, margin);
    }
    double rise = temperature - state[TEMPERATURE];
    stores[VAPOR] += (book->vapor_moles - contents->vapor_moles) * contents->latent;
    stores[SENSIBLE] += given - contents->sensible_capacity * rise;
    stores[WALL] += trial[WALL_HEAT] - state[WALL_HEAT];
    stores[FROST_STORE] += trial[FROST_HEAT] - state[FROST_HEAT];
    stores[HEATER] += trial[HEATER_HEAT] - state[HEATER_HEAT];
    book->vapor_moles = contents->vapor_moles;
}

static double advance(double seconds, double end, feed_t *feed, const night_t *night,
                      const bool *live, const int64_t *side, double asked, double tolerance,
                      double *stores, bool *lost)
{
    int64_t size = feed->size;
    double *state = feed->state, *stages = feed->stages;
    int64_t row = find_row(night, seconds, 0);
    double step = feed->pace[0];
    *lost = false;
    while (seconds < end && feed->pace[1] <= MOST_STEPS) {
        row = find_row(night, seconds, row);
        double stop = MIN(end, night->weather[row + 1].seconds);
        bool whole = seconds + 1.01 * step >= stop;
        double length = whole ? stop - seconds : step;
        bool possible = take_step(seconds, length, row, feed, night, live, side, asked);
        double error = possible ? step_error(feed, length, live, night->count) : INFINITY;
        feed->pace[1] += 1.0;
        if (!possible || (error > tolerance && length > SHORTEST_STEP)) {
            step = next_step(length, error, tolerance);
            settle_again(feed, night, live);
            continue;
        }
        double kept = whole ? step : 0.0, next = next_step(length, error, tolerance);
        step = MAX(kept, next);
        *lost = asked > 0.0
                && feed_pressure(feed->contents, side, night->count) < night->supply->minimum;
        if (*lost) {
            whole = false;
            length *= supply_crossing(length, feed, night, live, side);
            take_step(seconds, length, row, feed, night, live, side, asked);
        }
        for (int64_t c = 0; c < night->count; c++)
            if (live[c])
                keep_books(c, feed, night, asked > 0.0, stores);
        for (int64_t i = 0; i < size; i++) {
            state[i] = stages[TRIAL * size + i];
            stages[FIRST * size + i] = stages[LAST * size + i];
        }
        seconds = whole ? stop : seconds + length;
        if (*lost)
            return seconds;
    }
    feed->pace[0] = step;
    return seconds;
}

static void rest(feed_t *feed, int64_t c)
{
    for (int s = 0; s < STAGES; s++)
        memset(feed->stages + s * feed->size + c * WIDTH, 0, WIDTH * sizeof(double));
}

static void stand(int64_t c, double since, double until, feed_t *feed, const night_t *night,
                  double tolerance)
{
    if (until <= since)
        return;
    bool *live = calloc(night->count, sizeof *live);
    int64_t *idle = malloc(night->count * sizeof *idle);
    double stores[5] = {0.0};
    bool lost;
    for (int64_t i = 0; i < night->count; i++)
        idle[i] = -1;
    live[c] = true;
    double pace = feed->pace[0];
    feed->pace[0] = FIRST_STEP;
    settle_cylinder_fully(c, feed->state, night, feed->contents);
    memset(feed->stages, 0, STAGES * feed->size * sizeof(double));
    first_rates(since, find_row(night, since, 0), feed, night, live, idle, 0.0);
    advance(since, until, feed, night, live, idle, 0.0, tolerance, stores, &lost);
    rest(feed, c);
    feed->pace[0] = pace;
    free(live);
    free(idle);
}

/* night/room.py */

typedef struct {
    double *state, *stages, pace, lowest;
} room_t;

typedef struct {
    double *falling, *rising;
    int64_t falling_size, rising_size;
} marks_t;

static void room_rates(double seconds, int64_t row, const double *state, double flame_heat,
                       const night_t *night, double *rates)
{
    double after = part_of_row(night, row, seconds);
    double before = 1.0 - after;
    const weather_t *low = &night->weather[row], *high = &night->weather[row + 1];
    const cabin_t *cabin = night->cabin;
    double air = before * low->air + after * high->air;
    double wind = cabin->wind_factor * (before * low->wind + after * high->wind);
    double sun = before * low->sun_window + after * high->sun_window;
    double inside = state[INSIDE];
    double leak = leakage_conductance(cabin->leakage_area, inside, air, wind,
                                      night->supply->station_pressure);
    double ground = isnan(cabin->ground) ? air : cabin->ground;
    double lost = (cabin->ua_air + leak) * (inside - air) + cabin->ua_ground * (inside - ground);
    double gained = flame_heat + cabin->people + cabin->sun_aperture * sun;
    double exchanged = cabin->coupling * (inside - state[HEAVY]);
    rates[INSIDE] = (gained - lost - exchanged) / cabin->light_capacity;
    rates[HEAVY] = exchanged / cabin->heavy_capacity;
    rates[GAINED] = gained;
    rates[LOST] = lost;
}

static void take_room_step(double seconds, double step, int64_t row, room_t *room,
                           double flame_heat, const night_t *night)
{
    double *state = room->state, *stages = room->stages, *trial = stages + TRIAL * ROOM_WIDTH;
    to_second(state, step, stages, ROOM_WIDTH);
    room_rates(seconds + 0.5 * step, row, trial, flame_heat, night, stages + SECOND * ROOM_WIDTH);
    to_third(state, step, stages, ROOM_WIDTH);
    room_rates(seconds + 0.75 * step, row, trial, flame_heat, night, stages + THIRD * ROOM_WIDTH);
    to_end(state, step, stages, ROOM_WIDTH);
    room_rates(seconds + step, row, trial, flame_heat, night, stages + LAST * ROOM_WIDTH);
}

static double first_mark(const room_t *room, double step, const marks_t *marks)
{
    double before = room->state[INSIDE];
    double after = room->stages[TRIAL * ROOM_WIDTH + INSIDE];
    double first = 2.0;
    for (int64_t i = 0; i < marks->falling_size; i++) {
        double mark = marks->falling[i];
        if (before > mark && mark >= after) {
            double part = crossing(room->state, room->stages, ROOM_WIDTH, INSIDE, step, mark);
            first = MIN(first, part);
        }
    }
    for (int64_t i = 0; i < marks->rising_size; i++) {
        double mark = marks->rising[i];
        if (before < mark && mark <= after) {
            double part = crossing(room->state, room->stages, ROOM_WIDTH, INSIDE, step, mark);
            first = MIN(first, part);
        }
    }
    return first;
}

static double advance_room(double seconds, double end, room_t *room, double flame_heat,
                           const night_t *night, const marks_t *marks, double tolerance)
{
    double *state = room->state, *stages = room->stages;
    int64_t row = find_row(night, seconds, 0);
    room_rates(seconds, row, state, flame_heat, night, stages + FIRST * ROOM_WIDTH);
    double step = room->pace;
    while (seconds < end) {
        row = find_row(night, seconds, row);
        double stop = MIN(end, night->weather[row + 1].seconds);
        bool whole = seconds + 1.01 * step >= stop;
        double length = whole ? stop - seconds : step;
        take_room_step(seconds, length, row, room, flame_heat, night);
        double light = defect(stages, ROOM_WIDTH, INSIDE, length);
        double heavy = defect(stages, ROOM_WIDTH, HEAVY, length);
        double error = MAX(light, heavy);
        if (!(error <= tolerance) && length > SHORTEST_STEP) {
            step = next_step(length, error, tolerance);
            continue;
        }
        double kept = whole ? step : 0.0, next = next_step(length, error, tolerance);
        step = MAX(kept, next);
        double part = first_mark(room, length, marks);
        if (part < 2.0) {
            whole = false;
            length *= part;
            take_room_step(seconds, length, row, room, flame_heat, night);
        }
        for (int i = 0; i < ROOM_WIDTH; i++) {
            state[i] = stages[TRIAL * ROOM_WIDTH + i];
            stages[FIRST * ROOM_WIDTH + i] = stages[LAST * ROOM_WIDTH + i];
        }
        room->lowest = MIN(room->lowest, state[INSIDE]);
        seconds = whole ? stop : seconds + length;
        if (part < 2.0)
            break;
    }
    room->pace = step;
    return seconds;
}

/* night/burner.py */

static int64_t next_phase(double seconds, double inside, bool fed, const burner_t *burner,
                          const flame_t *flame)
{
    int64_t phase = flame->phase;
    if (phase == FLAME && !fed) {
        if (!burner->thermostat)
            return OUT;
        return flame->tries >= burner->tries ? LOCKED : WAIT;
    }
    if (!burner->thermostat) {
        if (phase == IDLE && flame->wanted)
            return fed ? FLAME : OUT;
        return flame->wanted ? phase : IDLE;
    }
    if (seconds < flame->timer)
        return phase;
    double half = 0.5 * burner->differential;
    if (phase == IDLE && inside <= flame->set_point - half + SLACK)
        return PURGE;
    if (phase == FLAME && inside >= flame->set_point + half - SLACK)
        return IDLE;
    if (phase == WAIT)
        return PURGE;
    if (phase == PURGE) {
        if (fed)
            return FLAME;
        return flame->tries + 1 >= burner->tries ? LOCKED : WAIT;
    }
    return phase;
}

static void turn(int64_t new, double seconds, const burner_t *burner, flame_t *flame)
{
    flame->timer = NEVER;
    if (new == PURGE) {
        flame->timer = seconds + burner->purge;
    } else if (new == FLAME) {
        flame->tries += 1;
        flame->since = seconds;
        flame->timer = seconds + burner->minimum_on;
    } else if (new == WAIT) {
        if (flame->phase == PURGE)
            flame->tries += 1;
        flame->timer = seconds + burner->retry_wait;
    } else if (new == IDLE) {
        flame->tries = 0;
        flame->timer = seconds + burner->minimum_off;
    }
    flame->phase = new;
}

static double next_time(double seconds, double inside, const burner_t *burner,
                        const flame_t *flame)
{
    if (!burner->thermostat)
        return NEVER;
    double half = 0.5 * burner->differential;
    bool waiting = flame->phase == PURGE || flame->phase == WAIT;
    if (flame->phase == IDLE)
        waiting = inside <= flame->set_point - half + SLACK;
    else if (flame->phase == FLAME)
        waiting = inside >= flame->set_point + half - SLACK;
    return waiting && flame->timer > seconds ? flame->timer : NEVER;
}

/* night/march.py */

typedef struct {
    int64_t *entries;
    double *seconds;
    int64_t *what, *which;
} log_t;

typedef struct {
    double *seconds;
    int64_t *about;
    double *cylinder;
} failures_t;

static void note(log_t *log, double seconds, int64_t what, int64_t which)
{
    int64_t i = log->entries[0];
    if (i < LOG_LENGTH) {
        log->seconds[i] = seconds;
        log->what[i] = what;
        log->which[i] = which;
    }
    log->entries[0] = i + 1;
}

static bool move_burners(double seconds, double inside, bool fed, const night_t *night,
                         flame_t *flames, log_t *log)
{
    bool starved = false;
    for (int64_t b = 0; b < night->fires; b++) {
        for (;;) {
            int64_t new = next_phase(seconds, inside, fed, &night->burners[b], &flames[b]);
            if (new == flames[b].phase)
                break;
            starved = starved || new == WAIT || new == LOCKED || new == OUT;
            turn(new, seconds, &night->burners[b], &flames[b]);
            note(log, seconds, new, b);
        }
    }
    return starved;
}

static double burner_stop(double seconds, double inside, const night_t *night,
                          const flame_t *flames)
{
    double stop = NEVER;
    for (int64_t b = 0; b < night->fires; b++) {
        double next = next_time(seconds, inside, &night->burners[b], &flames[b]);
        stop = MIN(stop, next);
        double endless = flames[b].since + LONGEST_BURN;
        if (flames[b].phase == FLAME && endless > seconds)
            stop = MIN(stop, endless);
    }
    return stop;
}

static void place_marks(const night_t *night, const flame_t *flames, marks_t *marks)
{
    for (int64_t i = 0; i < marks->falling_size; i++)
        marks->falling[i] = NAN;
    for (int64_t i = 0; i < marks->rising_size; i++)
        marks->rising[i] = NAN;
    for (int64_t b = 0; b < night->fires; b++) {
        double set_point = flames[b].set_point, half = 0.5 * night->burners[b].differential;
        if (night->burners[b].thermostat && flames[b].phase == IDLE) {
            marks->falling[b] = set_point - half;
        } else if (night->burners[b].thermostat && flames[b].phase == FLAME) {
            marks->rising[b] = set_point + half;
            marks->falling[b] = set_point - SHORTFALL;
        }
    }
    marks->falling[marks->falling_size - 1] = FREEZING_POINT;
}

static bool short_of_heat(double seconds, double before, double inside, const night_t *night,
                          const flame_t *flames)
{
    for (int64_t b = 0; b < night->fires; b++) {
        if (night->burners[b].thermostat && flames[b].phase == FLAME) {
            double mark = flames[b].set_point - SHORTFALL;
            bool sinks = before > mark + SLACK && inside <= mark + SLACK;
            bool endless = inside < mark && seconds >= flames[b].since + LONGEST_BURN;
            if (sinks || endless)
                return true;
        }
    }
    return false;
}

static void relight(const night_t *night, flame_t *flames)
{
    for (int64_t b = 0; b < night->fires; b++) {
        int64_t phase = flames[b].phase;
        if (phase == OUT || phase == LOCKED || phase == WAIT) {
            flames[b].phase = IDLE;
            flames[b].timer = 0.0;
            flames[b].tries = 0;
        }
    }
}

static void flame_heat(const night_t *night, const flame_t *flames, double *burning,
                       double *to_room)
{
    *burning = *to_room = 0.0;
    for (int64_t b = 0; b < night->fires; b++) {
        if (flames[b].phase == FLAME) {
            *burning += night->burners[b].heat;
            *to_room += night->burners[b].heat * night->burners[b].room_share;
        }
    }
}

static void share_burned(double mass, double burning, const night_t *night, flame_t *flames)
{
    for (int64_t b = 0; b < night->fires; b++)
        if (flames[b].phase == FLAME && night->burners[b].heat > 0.0)
            flames[b].burned += mass * night->burners[b].heat / burning;
}

static int64_t supply_cause(double seconds, const feed_t *feed, const night_t *night,
                            const int64_t *side, int64_t *best)
{
    *best = -1;
    for (int64_t c = 0; c < night->count; c++) {
        if (side[c] < 0)
            continue;
        if (*best < 0 || feed->contents[c].pressure > feed->contents[*best].pressure)
            *best = c;
    }
    const contents_t *contents = &feed->contents[*best];
    const cylinder_t *cylinder = &night->cylinders[*best];
    if (contents->liquid_volume < GONE * cylinder->volume)
        return EMPTY;
    double vapor[N_COMPONENTS];
    double air = outside_at(night, find_row(night, seconds, 0), seconds, *best).air;
    double at_air = bubble_pressure(air, contents->liquid, vapor);
    double left = 0.0, start = 0.0;
    for (int k = 0; k < N_COMPONENTS; k++) {
        left += feed->state[*best * WIDTH + MOLES + k] * MOLAR_MASS[k];
        start += cylinder->moles[k] * MOLAR_MASS[k];
    }
    if (at_air < night->supply->minimum && left >= LEFT_OVER * start)
        return RESIDUE;
    return VAPOR_LIMITED;
}

static void swap(double seconds, int64_t off, int64_t on, feed_t *feed, const night_t *night,
                 bool *live, int64_t *side, double *since, double tolerance)
{
    stand(on, since[on], seconds, feed, night, tolerance);
    settle_cylinder_fully(on, feed->state, night, feed->contents);
    since[off] = seconds;
    side[on] = side[off];
    side[off] = -1;
    live[on] = true;
    live[off] = false;
    rest(feed, off);
}

static void fail(double seconds, int64_t cause, int64_t cylinder, failures_t *failures, log_t *log)
{
    if (!isfinite(failures->seconds[cause])) {
        failures->seconds[cause] = seconds;
        failures->about[cause] = cylinder;
        note(log, seconds, EVENT_CAUSE + cause, cylinder);
    }
}

static void run(const night_t *night, feed_t *feed, room_t *room, flame_t *flames,
                  failures_t *failures, double *stores, log_t *log, double tolerance)
{
    int64_t count = night->count, fires = night->fires;
    int64_t *side = malloc(count * sizeof *side);
    bool *live = malloc(count * sizeof *live);
    double *since = calloc(count, sizeof *since);
    double *mark = malloc((2 * fires + 1) * sizeof *mark);
    marks_t marks = {mark, mark + fires + 1, fires + 1, fires};
    double saved[ROOM_WIDTH] = {0.0}, saved_lowest = room->lowest, after_failure[5] = {0.0};
    for (int64_t c = 0; c < count; c++) {
        side[c] = night->cylinders[c].side;
        live[c] = side[c] >= 0;
    }
    double minimum = night->supply->minimum;

    double seconds = 0.0;
    double inside = night->heated ? room->state[INSIDE] : -INFINITY;
    double before = inside;
    int64_t order = 0, row = 0;
    bool lost = false;
    double drawn = -1.0;
    for (;;) {
        row = find_row(night, seconds, row);
        while (order < night->orders_size && night->orders[order].seconds <= seconds) {
            int64_t which = night->orders[order].which;
            double value = night->orders[order].value;
            if (night->orders[order].what == ORDER_BURNER) {
                flames[which].wanted = value > 0.5;
            } else if (night->orders[order].what == ORDER_SET_POINT) {
                flames[which].set_point = value;
                flames[which].since = seconds;
                before = inside;
            } else {
                int64_t on = (int64_t)value;
                swap(seconds, which, on, feed, night, live, side, since, tolerance);
                relight(night, flames);
                note(log, seconds, EVENT_SWAP, on);
                drawn = -1.0;
            }
            order += 1;
        }
        if (drawn < 0.0) {
            first_rates(seconds, row, feed, night, live, side, 0.0);
            drawn = 0.0;
        }

        if (night->heated && short_of_heat(seconds, before, inside, night, flames))
            fail(seconds, HEAT_SHORT, -1, failures, log);
        if (night->heated && before > FREEZING_POINT + SLACK && FREEZING_POINT + SLACK >= inside)
            fail(seconds, FREEZING_CAUSE, -1, failures, log);
        before = inside;
        bool fed = feed_pressure(feed->contents, side, count) >= minimum && !lost;
        if (move_burners(seconds, inside, fed, night, flames, log)) {
            int64_t cylinder;
            int64_t cause = supply_cause(seconds, feed, night, side, &cylinder);
            fail(seconds, cause, cylinder, failures, log);
            for (int64_t c = 0; c < count; c++)
                if (side[c] >= 0)
                    failures->cylinder[c] = MIN(failures->cylinder[c], seconds);
        }
        if (seconds >= night->length || feed->pace[1] > MOST_STEPS)
            break;

        double burning, to_room;
        flame_heat(night, flames, &burning, &to_room);
        if (burning != drawn) {
            first_rates(seconds, row, feed, night, live, side, burning);
            drawn = burning;
        }
        double stop = burner_stop(seconds, inside, night, flames);
        stop = MIN(night->length, stop);
        if (order < night->orders_size)
            stop = MIN(stop, night->orders[order].seconds);
        double reached = stop;
        if (night->heated) {
            place_marks(night, flames, &marks);
            memcpy(saved, room->state, sizeof saved);
            saved_lowest = room->lowest;
            reached = advance_room(seconds, stop, room, to_room, night, &marks, tolerance);
        }
        double burned = feed->state[count * WIDTH];
        bool holding = true;
        for (int cause = 0; cause < CAUSES; cause++)
            holding = holding && !isfinite(failures->seconds[cause]);
        double until = advance(seconds, reached, feed, night, live, side, burning, tolerance,
                               holding ? stores : after_failure, &lost);
        if (night->heated) {
            if (until < reached) {
                memcpy(room->state, saved, sizeof saved);
                room->lowest = saved_lowest;
                advance_room(seconds, until, room, to_room, night, &marks, tolerance);
            }
            inside = room->state[INSIDE];
        }
        share_burned(feed->state[count * WIDTH] - burned, burning, night, flames);
        seconds = until;
    }

    for (int64_t c = 0; c < count; c++) {
        if (!live[c])
            stand(c, since[c], seconds, feed, night, tolerance);
        settle_books(c, feed, night);
    }
    free(side);
    free(live);
    free(since);
    free(mark);
}

/* Arrays for the outcome come from the caller, of the sizes of coldsoak.night.march.Outcome. */
void march(double length, const weather_t *weather, int64_t weather_size, const double *sun,
           const cylinder_t *cylinders, int64_t count, const supply_t *supply,
           const burner_t *burners, int64_t fires, const cabin_t *cabin, bool heated,
           const order_t *orders, int64_t orders_size, double tolerance, double *state,
           double *room_state, double *burned, double *failure_seconds, int64_t *failure_about,
           double *failure_cylinder, double *stores, double *lowest_inside, double *fluid_energy,
           book_t *books, int64_t *steps, int64_t *log_entries, double *log_seconds,
           int64_t *log_what, int64_t *log_which)
{
    night_t night = {length,  weather, weather_size, sun,   cylinders, count,  supply,
                     burners, fires,   cabin,        heated, orders,   orders_size};
    int64_t size = count * WIDTH + 1;
    feed_t feed = {size,
                   state,
                   calloc(STAGES * size, sizeof(double)),
                   calloc(count, sizeof(contents_t)),
                   calloc(count, sizeof(double)),
                   calloc(count, sizeof(double)),
                   books,
                   {0.0, 0.0}};
    memset(state, 0, size * sizeof(double));
    memset(books, 0, count * sizeof(book_t));
    begin(&feed, &night);
    for (int64_t c = 0; c < count; c++)
        fluid_energy[c] = feed.books[c].energy;

    double room_stages[STAGES * ROOM_WIDTH] = {0.0};
    room_t room = {room_state, room_stages, FIRST_STEP, cabin->temperature};
    room_state[INSIDE] = room_state[HEAVY] = cabin->temperature;
    room_state[GAINED] = room_state[LOST] = 0.0;

    flame_t *flames = calloc(fires, sizeof *flames);
    for (int64_t b = 0; b < fires; b++)
        flames[b].set_point = burners[b].set_point;
    failures_t failures = {failure_seconds, failure_about, failure_cylinder};
    for (int cause = 0; cause < CAUSES; cause++) {
        failure_seconds[cause] = INFINITY;
        failure_about[cause] = -1;
    }
    for (int64_t c = 0; c < count; c++)
        failure_cylinder[c] = INFINITY;
    memset(stores, 0, 5 * sizeof(double));
    log_entries[0] = 0;
    log_t log = {log_entries, log_seconds, log_what, log_which};

    run(&night, &feed, &room, flames, &failures, stores, &log, tolerance);

    for (int64_t b = 0; b < fires; b++)
        burned[b] = flames[b].burned;
    for (int64_t c = 0; c < count; c++)
        fluid_energy[c] = feed.contents[c].energy - fluid_energy[c];
    *lowest_inside = room.lowest;
    *steps = (int64_t)feed.pace[1];
    free(feed.stages);
    free(feed.contents);
    free(feed.share);
    free(feed.wetted);
    free(flames);
}
