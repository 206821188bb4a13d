using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Causes;

/// <summary>Mistakes of reading and typing, and a patch that is not what it was. Nothing happened to the film, or little.</summary>
internal sealed class ReadingCandidates(Evidence evidence, StripRecord record, Matrix<double> littleOff)
{
    /// <summary>Share of strips with a mistake whose process was a little off as well. Judgement.</summary>
    private const double AlsoOff = 0.3;

    /// <summary>How far one value may be out: anything from a digit's neighbour to a wrong first digit. Judgement.</summary>
    private static readonly (double Size, double Share)[] Sizes = [(0.06, 0.25), (0.2, 0.35), (0.6, 0.3), (1.5, 0.1)];

    private static readonly bool[] EitherWay = [false, true];

    /// <summary>Where nothing is known of what was read in place of a patch.</summary>
    private const double Anything = 1;

    /// <param name="share">How probable a mistake of reading is.</param>
    /// <param name="damaged">How probable a damaged patch is.</param>
    public IEnumerable<Candidate> All(double share, double damaged)
    {
        var patches = record.Layout.Patches;
        yield return Best(Possibilities.WrongEnd, share, [Move("", Order(i => patches.Length - 1 - i))]);
        yield return Best(
            Possibilities.ShiftedPatches, share,
            [
                Move("Each patch fits the aim of the next.", Order(i => i + 1)),
                Move("Each patch fits the aim of the one before.", Order(i => i - 1)),
            ]);
        yield return Best(
            Possibilities.SwappedPatches, share,
            [
                .. from i in Enumerable.Range(0, patches.Length)
                   from j in Enumerable.Range(i + 1, patches.Length - i - 1)
                   where IsRead(patches[i]) && IsRead(patches[j])
                   select Move(
                       $"{patches[i].Name} and {patches[j].Name} fit each other's aims.",
                       Order(k => k == i ? j : k == j ? i : k)),
            ]);
        yield return Best(Possibilities.SwappedColours, share, [.. Colours()]);
        yield return Best(
            Possibilities.OneValue, share,
            [
                .. evidence.Cells.Select((cell, i) => new Mistake(
                    $"{cell.PatchName} {cell.Channel.Word()} alone is off, by {Words(cell.Deviation)}.",
                    evidence.Build(c => c == cell ? cell.Deviation : 0),
                    [.. Sizes.Select(s => (s.Share, Null(), Part((a, b) => a == i && b == i ? s.Size * s.Size : 0)))])),
            ]);
        yield return Best(
            Possibilities.DamagedPatch, damaged,
            [
                .. evidence.Cells.GroupBy(c => c.PatchKey).Select(patch => new Mistake(
                    $"{patch.First().PatchName} alone is off.",
                    evidence.Build(c => c.PatchKey == patch.Key ? c.Deviation : 0),
                    // Scratch and dust take or add light in all colours alike, or nearly.
                    [.. Sizes.Take(3).Select(s => (s.Share, Null(), Part((a, b) => s.Size * s.Size
                        * (evidence.Cells[a].PatchKey == patch.Key && evidence.Cells[b].PatchKey == patch.Key ? a == b ? 1 : 0.9 : 0))))])),
            ]);
    }

    private IEnumerable<Mistake> Colours()
    {
        (Channel[] Shown, string Words)[] orders =
        [
            ([Channel.Green, Channel.Red, Channel.Blue], "red and green"), ([Channel.Blue, Channel.Green, Channel.Red], "red and blue"),
            ([Channel.Red, Channel.Blue, Channel.Green], "green and blue"),
            ([Channel.Green, Channel.Blue, Channel.Red], "all three colours"),
            ([Channel.Blue, Channel.Red, Channel.Green], "all three colours"),
        ];
        foreach (var (shown, words) in orders)
        {
            Channel Of(Channel c) => c is Channel.Red ? shown[0] : c is Channel.Green ? shown[1] : c is Channel.Blue ? shown[2] : c;
            yield return Move($"On the whole strip, {words} fit each other's aims.", c => (c.PatchKey, Of(c.Channel)));
            foreach (var patch in evidence.Cells.DistinctBy(c => c.PatchKey))
            {
                yield return Move(
                    $"On {patch.PatchName}, {words} fit each other's aims.",
                    c => (c.PatchKey, c.PatchKey == patch.PatchKey ? Of(c.Channel) : c.Channel));
            }
        }
    }

    /// <summary>The patch that is read in the place of each, by number; outside the strip it is not known.</summary>
    private Func<EvidenceCell, (string, Channel)?> Order(Func<int, int> shown) => cell =>
    {
        var patches = record.Layout.Patches;
        var at = shown(patches.IndexOf(patches.First(p => Keys.Same(p.Key, cell.PatchKey))));
        return at >= 0 && at < patches.Length ? (patches[at].Key, cell.Channel) : null;
    };

    /// <summary>Each cell shows what belongs to another.</summary>
    private Mistake Move(string detail, Func<EvidenceCell, (string PatchKey, Channel Channel)?> shows)
    {
        var moved = evidence.Build(c => shows(c) is { } other && record.Aim(other.PatchKey, other.Channel) is { } aim
            ? aim.Value - c.Aim
            : double.NaN);
        var unknown = Part((i, j) => i == j && double.IsNaN(moved[i]) ? Anything * Anything : 0);
        var mean = moved.Map(m => double.IsNaN(m) ? 0 : m, Zeros.Include);
        return new Mistake(detail, mean, [(1, mean, unknown)]);
    }

    private Candidate Best(Possibility of, double share, ImmutableArray<Mistake> mistakes)
    {
        var weighed = mistakes.Select(m => (Mistake: m, Log: Evidence.LogSum(
        [
            .. from part in m.Parts
               from isOff in EitherWay
               select Math.Log(part.Share * (isOff ? AlsoOff : 1 - AlsoOff) / mistakes.Length) + evidence.LogDensity(
                   part.Mean, isOff ? evidence.Scatter + part.Spread + littleOff : evidence.Scatter + part.Spread),
        ]))).OrderByDescending(w => w.Log).ToList();
        return weighed.Count == 0
            ? new Candidate([of], double.NegativeInfinity, double.NegativeInfinity)
            : new Candidate([of], Math.Log(share * of.Commonness), Evidence.LogSum([.. weighed.Select(w => w.Log)]))
            {
                Expected = weighed[0].Mistake.Expected,
                Detail = weighed[0].Mistake.Detail,
            };
    }

    private bool IsRead(Patch patch) => evidence.Cells.Any(c => Keys.Same(c.PatchKey, patch.Key));

    private Vector<double> Null() => Vector<double>.Build.Dense(evidence.Cells.Length);

    private Matrix<double> Part(Func<int, int, double> of) => evidence.Build(of);

    private static string Words(double deviation) => deviation.ToString("+0.00;\u22120.00;0.00", CultureInfo.InvariantCulture);

    /// <summary>One way to make it: what it would make of each cell, and the parts of its distribution.</summary>
    private sealed record Mistake(
        string Detail, Vector<double> Expected, ImmutableArray<(double Share, Vector<double> Mean, Matrix<double> Spread)> Parts);
}
