"""Every calculator faultkit brings, by subject; a subject is imported when one of its calculators is first used."""

from __future__ import annotations

from faultkit.calculators.registry import Subject

__all__ = ["SUBJECTS"]

#: In the order in which they are listed. A test compares the names with the modules.
SUBJECTS: tuple[Subject, ...] = (
    Subject("basic", "faultkit.calculators.basic:BASIC", (
        "difference", "sum", "percent_of", "percent_deviation",
    )),
    Subject("refrigerants", "faultkit.calculators.refrigerants:REFRIGERANTS", (
        "dew_pressure", "bubble_pressure", "dew_temperature", "bubble_temperature", "glide", "superheat",
        "subcooling", "subcooling_lost", "compression_ratio", "evaporator_temperature_difference", "condenser_split",
        "non_condensable_pressure", "liquid_density", "vapor_density", "latent_heat", "liquid_column_pressure",
        "discharge_temperature", "refrigerant_facts", "pressure_table",
    )),
    Subject("charge", "faultkit.calculators.charge:CHARGE", (
        "charge_lost", "charge_lost_share", "charge_balance", "vapor_mass", "bore_volume", "hose_liquid",
        "recovery_cylinder_limit", "recovery_cylinder_room", "cylinder_fill", "liquid_full_temperature",
        "recovery_cylinder", "receiver_fill", "receiver_capacity", "pump_down_room", "pump_down",
        "condenser_flooded_share", "winter_charge", "winter_charge_check", "tube_bore", "liquid_line_charge",
        "vapor_line_charge", "leak_rate_annualized", "leak_rate_rolling", "leak_rule", "leak_rule_check",
        "chronic_leak_check", "global_warming_potential", "pressure_class", "evacuation_level",
        "recovery_requirement", "vacuum_reading", "water_boiling_temperature", "water_boiling_pressure",
        "water_under_vacuum", "vacuum_rise", "decay_test", "nitrogen_pressure", "nitrogen_pressure_lost",
        "nitrogen_test", "lower_flammability_limit", "flammable_charge_limit", "flammable_charge_check",
        "room_concentration", "smallest_room", "room_concentration_check",
    )),
    Subject("controls", "faultkit.calculators.controls:CONTROLS", (
        "low_pressure_settings", "low_pressure_settings_by_coil", "low_pressure_check",
        "low_pressure_check_by_differential", "low_pressure_cut_in", "low_pressure_cut_out",
        "setting_saturation_temperature", "cut_in_winter_margin", "pressure_differential",
        "cut_out_from_differential", "box_temperature_at_cut_out", "head_pressure_setting", "high_pressure_ceiling",
        "fan_cycling_settings", "fan_cycling_check", "fan_speed_settings", "flooding_valve_check",
        "high_pressure_check", "thermostat_check", "coil_thermostat_check", "thermostat_warmest_air",
        "thermostat_coldest_air", "lowest_off_cycle_cut_in", "set_point_settings", "true_set_point",
        "probe_offset_to_enter", "probe_offset_effect", "defrost_day", "defrost_heater_time", "defrost_energy",
        "share_not_refrigerating", "longest_time_between_defrosts", "defrosts_needed", "frost_melt_time",
        "defrost_settings_check", "defrost_ending", "fail_safe_share", "off_cycle_defrost_margin",
        "off_cycle_defrost_check", "clock_error", "clock_error_size", "clock_drift", "synchronous_clock_rate",
        "defrost_times", "defrosts_in_service", "cycling_log", "starts_per_hour", "run_fraction", "shortest_run",
        "shortest_off", "cycling_rate", "most_cycling_rate", "cycling_comparison", "run_hours_per_day",
        "run_fraction_by_meter", "run_hours_check", "anti_short_cycle_time", "starts_limit_by_delay",
        "delay_relay_check", "next_restart_delay", "last_restart_time",
    )),
    Subject("electrical", "faultkit.calculators.electrical:ELECTRICAL", (
        "voltage_deviation", "utilization_voltage_deviation", "utilization_voltage_check", "dual_voltage_deviation",
        "motor_voltage_check", "voltage_sag", "source_impedance", "loaded_voltage", "voltage_unbalance",
        "current_unbalance", "unbalance_derating", "unbalance_rise_share", "unbalance_rise",
        "voltage_unbalance_check", "rolled_leads_check", "wire_resistance", "loop_resistance", "wire_impedance",
        "voltage_drop", "voltage_drop_impedance", "excess_voltage_drop", "voltage_drop_check", "splice_drop",
        "splice_resistance", "splice_watts", "splice_check", "current_ratio", "locked_rotor_current",
        "locked_rotor_ratio", "motor_state", "motor_current_at_voltage", "starting_torque_ratio", "winding_sum_error",
        "single_phase_winding_check", "winding_terminals", "winding_unbalance", "three_phase_winding_check",
        "overload_pattern", "winding_temperature", "winding_temperature_rise", "winding_resistance",
        "insulation_minimum", "insulation_resistance_at_40c", "insulation_check", "ground_limit",
        "hermetic_insulation_check", "capacitance", "capacitor_current", "capacitance_deviation", "capacitor_check",
        "apparent_power", "real_power", "power_factor", "heater_resistance", "heater_power", "heater_current",
        "heater_bank_current", "open_heaters", "heater_bank_check", "overload_trip_ceiling", "branch_device_ceiling",
        "branch_device_size", "branch_device_check", "contactor_pick_up", "contactor_drop_out",
        "contactor_coil_check", "ptc_check",
    )),
    Subject("sensors", "faultkit.calculators.sensors:SENSORS", (
        "sensor_resistance", "sensor_temperature", "ice_bath_resistance", "sensor_error", "sensor_deviation",
        "sensor_check", "wrong_curve_reading", "wrong_curve_error", "series_resistance_error",
        "parallel_leakage_error", "lead_wire_error", "rtd_tolerance", "rtd_limits", "beta_resistance",
        "beta_temperature", "thermistor_beta", "steinhart_hart_coefficients", "three_point_temperature",
        "three_point_resistance", "probe_offset", "thermometer_limit", "probe_check", "ice_bath_check",
        "loop_pressure", "loop_current", "loop_check", "ratiometric_pressure", "ratiometric_signal",
        "ratiometric_check", "transducer_error", "thermocouple_voltage", "thermocouple_temperature",
    )),
    Subject("air", "faultkit.calculators.air:AIR", (
        "water_vapor_pressure", "dew_point", "relative_humidity_from_dew_point", "relative_humidity_from_wet_bulb",
        "wet_bulb", "humidity_ratio", "moist_air_enthalpy", "moist_air_density", "dry_air_density",
        "outside_surface_temperature", "sweat_margin", "surface_dew_point_margin", "sweating_humidity",
        "sweating_surface", "airflow", "sensible_capacity", "air_temperature_split", "coil_capacity",
        "coil_total_capacity", "coil_sensible_capacity", "coil_sensible_heat_ratio", "coil_moisture_removed",
    )),
    Subject("load", "faultkit.calculators.load:LOAD", (
        "open_door_flow", "door_infiltration", "door_moisture", "door_open_time_factor",
        "specific_heat_above_freezing", "specific_heat_below_freezing", "latent_heat_of_freezing", "chilling_heat",
        "freezing_heat", "product_heat", "product_load", "wall_gain", "needed_capacity", "box_load",
        "expected_run_fraction", "evaporator_capacity_at_td", "pull_down_rate", "temperature_after", "pull_down_time",
        "time_constant_of_two_readings", "product_time_constant", "warm_up_time", "pull_down", "pull_down_settles_at",
        "pull_down_time_constant", "pull_down_time_left",
    )),
    Subject("compressor", "faultkit.calculators.compressor:COMPRESSOR", (
        "compressor_mass_flow", "compressor_power", "compressor_capacity", "compressor_current",
        "suction_density_correction", "return_gas_factor", "compressor_displacement", "volumetric_efficiency",
        "clearance_volumetric_efficiency", "isentropic_efficiency", "overall_isentropic_efficiency",
        "compressor_current_ratio",
    )),
    Subject("food", "faultkit.calculators.food:FOOD", (
        "time_above", "longest_time_above", "highest_product_temperature", "unknown_log_time", "cold_holding",
        "time_control", "cooling_time", "cooling_check", "food_limit", "food_margin", "food_temperature_check",
        "cabinet_test", "room_above_test", "room_check", "prep_table_check",
    )),
)
