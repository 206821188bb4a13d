using System.Text.RegularExpressions;
using MathNet.Numerics;

namespace Acquire.Analysis.Plausibility;

/// <summary>A density without a digit before its point, from an instrument that writes one before every other: the line lost it, so that
/// 2.12 became .12. A profile that accepts both ways of writing cannot refuse it.</summary>
internal static partial class LostDigit
{
    // Of densities, that one loses its first digit on the way; fewer values come wrong over a line than are mistyped. Common practice, no
    // source.
    private const double Prior = 0.001;

    // An instrument's program writes all its densities below 1 alike, with a nought or without: the shape of a beta distribution that has
    // nearly all at the two ends. Judgement.
    private const double BothWays = 1e-4;

    /// <summary>A suspicion for each read that counts and has such a density.</summary>
    public static ImmutableArray<Suspicion> Of(ImmutableArray<TimedRead> reads)
    {
        var written = reads.Select(r => (Read: r, Numbers: Written(r.Reading).ToList())).ToList();
        var bare = written.Sum(w => w.Numbers.Count(n => n.IsBare));
        var noughts = written.Sum(w => w.Numbers.Count(n => !n.IsBare && n.Value < 1));
        if (bare == 0)
        {
            return [];
        }

        // All of them were lost, or this is how the instrument writes: it did so in this many of so many.
        var evidence = (bare * Math.Log(Prior))
            - (SpecialFunctions.BetaLn(bare + BothWays, noughts + BothWays) - SpecialFunctions.BetaLn(BothWays, BothWays));
        return
        [
            .. from w in written
               let lost = w.Numbers.Where(n => n.IsBare).Select(n => n.Channel).Distinct().ToList()
               where lost.Count > 0
               select Of(w.Read, lost, evidence),
        ];
    }

    private static Suspicion Of(TimedRead read, List<Channel> lost, double evidence)
    {
        var name = read.Patch.Name;
        var values = string.Join(" and ", lost.Select(c => string.Create(
            CultureInfo.InvariantCulture, $"{c.Word()} {Bare(read.Reading.Densities[c]!.Value)}")));
        var why = $"a digit before the point may have been lost in {string.Join(" and ", lost.Select(c => c.Word()))}";
        return new Suspicion(
            SuspicionKind.LostDigit, evidence, [read.Place.PatchKey], [read.Place],
            $"A reading of {name} came as {values}, without a digit before the point, where this instrument writes one: a digit may "
            + $"have been "
            + $"lost on the line. Leave this reading out and read {name} again?",
            new Remedy.LeaveOutRead(read.Place, why));
    }

    private static string Bare(Density density) => density.ToString().Replace("0.", ".", StringComparison.Ordinal);

    /// <summary>The densities as the lines have them. Numbers that are no density of the reading say nothing.</summary>
    private static IEnumerable<(Channel Channel, decimal Value, bool IsBare)> Written(Reading reading)
    {
        foreach (var match in (reading.IsEntered ? [] : reading.Lines).SelectMany(l => Number().Matches(l.Text)))
        {
            var value =
                decimal.Parse($"{match.Groups["whole"].Value.PadLeft(1, '0')}.{match.Groups["rest"].Value}", CultureInfo.InvariantCulture);
            var channel = reading.Densities.Present.Where(c => Math.Abs(reading.Densities[c]!.Value.Value) == value).ToList();
            if (channel.Count > 0)
            {
                yield return (channel[0], value, match.Groups["whole"].Length == 0);
            }
        }
    }

    // A number that touches another, or a row of dots, may be read in more than one way.
    [GeneratedRegex(@"(?<![0-9.,])(?<whole>[0-9]{0,2})[.,](?<rest>[0-9]{1,6})(?![0-9.])", RegexOptions.CultureInvariant)]
    private static partial Regex Number();
}
