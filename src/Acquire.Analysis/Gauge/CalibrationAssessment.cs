using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>Holds readings of a plaque against its certified values.</summary>
public static class CalibrationAssessment
{
    /// <summary>Assesses readings.</summary>
    /// <param name="data">The readings; patches and channels that the plaque does not certify are left out.</param>
    /// <param name="repeatability">Scatter of a read known from a repeatability test, per channel;
    /// it is pooled with what the readings' own repeats show.</param>
    /// <exception cref="GaugeException">No certified patch was read, or the readings fall where the certified values rise.</exception>
    public static CalibrationReport Of(
        Plaque plaque, RepeatabilityData data, IReadOnlyDictionary<Channel, PooledDeviation>? repeatability = null)
    {
        var channels = data.ChannelsPresent
            .Select(channel => PlaqueReads.Of(plaque, data, channel, repeatability))
            .Where(reads => reads.Patches.Length > 0)
            .ToImmutableArray();
        if (channels.IsEmpty)
        {
            throw new GaugeException(
                $"None of the readings is of a certified patch; the plaque has "
                + $"{string.Join(", ", plaque.Patches.Select(p => p.Patch.Key))}, read {string.Join(", ", data.Patches)}.");
        }

        var results = channels.Select(reads => Assess(reads, plaque.Tolerance)).ToImmutableArray();
        return new CalibrationReport(results, Overall(results.Select(r => r.Verdict)), [.. channels.SelectMany(r => NotesOf(plaque, r))]);
    }

    internal static CheckVerdict Overall(IEnumerable<CheckVerdict> verdicts) => verdicts.Max();

    private static ChannelCalibration Assess(PlaqueReads reads, double tolerance)
    {
        // First of all: readings of a plaque laid wrong way round would make a slope that nobody should adjust.
        reads.RefuseFalling(tolerance);
        ImmutableArray<PlaqueError> errors = [.. reads.Patches.Select(p => reads.ErrorOf(p, tolerance))];
        var verdict = Overall(errors.Select(e => e.Verdict));
        var line = PlaqueLine.Of(reads);
        var zero = line?.Zero ?? reads.MeanError(errors);
        var (cause, advice) = CalibrationAdvice.Of(errors, zero, line?.Slope, verdict, tolerance);
        return new ChannelCalibration(reads.Channel, errors, zero, line?.Slope, verdict, cause, advice);
    }

    private static IEnumerable<string> NotesOf(Plaque plaque, PlaqueReads reads)
    {
        var word = reads.Channel.Word();
        var unread = plaque.Patches
            .Where(p => p.Certified[reads.Channel] is not null && reads.Patches.All(r => r.Certified != p))
            .Select(p => p.Patch.Key)
            .ToArray();
        if (unread.Length > 0)
        {
            yield return $"{word}: not read: {string.Join(", ", unread)}.";
        }

        if (reads.Patches.Length < 3)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"{word}: with {reads.Patches.Length} certified densities only the zero is estimated; a slope needs three.");
        }

        if (PlaqueLine.Of(reads) is { IsBent: true })
        {
            yield return $"{word}: the readings lie farther from a straight line than their uncertainties explain; the intervals of "
                + "zero and slope are wider for it.";
        }

        if (reads.Deviation is null)
        {
            yield return $"{word}: no patch was read twice and no repeatability is known, so the uncertainty holds the display step and "
                + "the certificate only.";
        }
    }
}

/// <summary>Tells from the pattern of the errors what to do: clean, zero, adjust the slope, or read again.</summary>
/// <remarks>The order of work — cleanliness, then zero, then slope — and the rule to leave alone
/// what is inside tolerance: common practice, no source.</remarks>
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

    /// <summary>The patch that is off while the others agree with a line of their own that misses it by more than the tolerance. The ends
    /// of a short plaque are no lone patches: a slope looks the same.</summary>
    private static PlaqueError? LonePatch(ImmutableArray<PlaqueError> errors, double tolerance)
    {
        if (errors.Length < 3)
        {
            return null;
        }

        var worst = errors.MaxBy(e => Math.Abs(e.Error))!;
        var others = errors.Remove(worst);
        var isEnd = worst == errors[0] || worst == errors[^1];
        // Of three patches, an end that is off looks the same as a slope that is.
        if (!others.All(e => e.IsInside) || (errors.Length == 3 && isEnd))
        {
            return null;
        }

        // The line of the others, as an end patch of a plaque whose slope is off is far from their mean and no lone patch.
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
