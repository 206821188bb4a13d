using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>Tells from the pattern of the errors what to do: clean, zero, adjust the slope, or read again.</summary>
/// <remarks>
/// The order of work — cleanliness, then zero, then slope — and the rule to leave alone what is inside tolerance:
/// common practice, no source.
/// </remarks>
internal static class CalibrationAdvice
{
    private const string Scattered =
        "The errors follow neither a zero nor a slope: clean aperture and plaque, lay the plaque flat, and read every patch three times.";

    public static (CalibrationFault Cause, string Advice) Of(
        ImmutableArray<PlaqueError> errors, Adjustment zero, Adjustment? slope, CheckVerdict verdict, double tolerance)
    {
        if (verdict == CheckVerdict.Pass)
        {
            return (CalibrationFault.None, "Nothing to do. Do not recalibrate: every calibration adds its own error.");
        }

        if (verdict == CheckVerdict.Undecided)
        {
            return (CalibrationFault.None, Undecided(errors, tolerance));
        }

        if (LonePatch(errors, tolerance) is { } alone)
        {
            return (CalibrationFault.OnePatch, string.Create(
                CultureInfo.InvariantCulture,
                $"Patch {alone.Patch} alone is off ({alone.Error:+0.000;-0.000}): blow the dust off, clean the patch, and read it "
                + $"again. If it stays off, the plaque may be damaged."));
        }

        // The zero is what the low end shows; the slope is what is added on the way to the dense end.
        var zeroOff = !zero.Holds(0) && Math.Abs(zero.Value) > tolerance / 2;
        var slopeOff = slope is { } s && !s.Holds(1) && Math.Abs(s.Value - 1) * errors[^1].Certified > tolerance / 2;
        return (zeroOff, slopeOff) switch
        {
            (true, true) => (CalibrationFault.ZeroAndSlope, string.Create(
                CultureInfo.InvariantCulture,
                $"Zero ({zero.Value:+0.000;-0.000}) and slope ({slope!.Value.Value:0.000}) are off: clean the aperture and zero again "
                + $"first, check again, and adjust the slope only if it is still off.")),
            (true, false) => (CalibrationFault.Zero,
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The zero is off ({zero.Value:+0.000;-0.000}): clean the aperture and zero again on the open gate.")),
            (false, true) => (CalibrationFault.Slope, string.Create(
                CultureInfo.InvariantCulture,
                $"The slope is off ({slope!.Value.Value:0.000}): adjust the slope on the densest patch of the plaque, then check again.")),
            _ => (CalibrationFault.Scattered, Scattered),
        };
    }

    /// <summary>
    /// The patch that is off while the others agree with a line of their own that misses it by more than the tolerance. The ends of a
    /// short plaque are no lone patches: a slope looks the same.
    /// </summary>
    private static PlaqueError? LonePatch(ImmutableArray<PlaqueError> errors, double tolerance)
    {
        if (errors.Length < 3)
        {
            return null;
        }

        var worst = errors.MaxBy(e => Math.Abs(e.Error))!;
        var others = errors.Remove(worst);
        var isEnd = worst == errors[0] || worst == errors[^1];
        if (!others.All(e => e.IsInside) || (errors.Length == 3 && isEnd))
        {
            return null;
        }

        var line = StraightLine.Of([.. others.Select(e => (e.Certified, e.Error))]);
        var expected = line?.At(worst.Certified) ?? others.Average(e => e.Error);
        return Math.Abs(worst.Error - expected) > tolerance ? worst : null;
    }

    private static string Undecided(ImmutableArray<PlaqueError> errors, double tolerance)
    {
        var worst = errors.MinBy(e => e.ProbabilityInside)!;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Patch {worst.Patch} ({worst.Error:+0.000;-0.000;0.000}, u = {worst.StandardUncertainty:0.0000}) is too near the tolerance "
            + $"of ±{tolerance:0.00##} to tell: clean the aperture, and read every patch several times, placing it anew.");
    }

}
