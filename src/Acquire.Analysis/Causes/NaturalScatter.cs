using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Causes;

/// <summary>What strips of a process in order scatter by from run to run, beside their reading.</summary>
/// <param name="Run">Standard deviation of what moves all colours together, at LD; denser patches move half as much again, D-min a quarter
/// as much. Small tanks by hand scatter 0.01 to 0.03 (common practice, no source).</param>
/// <param name="Own">Standard deviation of what each patch and channel does by itself.</param>
public sealed record NaturalScatter(double Run = 0.012, double Own = 0.004)
{
    /// <summary>For how many differences of two strips the built-in scatter counts. Judgement.</summary>
    private const double PriorFreedom = 3;

    /// <summary>A step larger than so many times the middle one is an event, not scatter. Judgement.</summary>
    private const double Event = 3;

    /// <summary>Mean of the square of a normal value against its median: χ² with one degree of freedom.</summary>
    private const double MeanOverMedian = 1 / 0.4549;

    /// <summary>How much of <see cref="Run"/> a patch takes part in.</summary>
    public static double ShareOf(string patchKey)
    {
        return patchKey.ToLowerInvariant() switch
        {
            "dmin" => 0.25,
            "hd" or "dmax" or "yellow" => 1.5,
            _ => 1,
        };
    }

    /// <summary>How a line's own strips scatter from one to the next, shrunk towards the built-in numbers: a handful of strips says
    /// little. Steps count, not distances from aim, so that a line that stands off its aim is not taken for one that scatters.</summary>
    /// <param name="strips">Strips of the line in the order of time, the one that is asked about not among them.</param>
    /// <param name="known">What is known of the reading of each; null for what its record alone tells.</param>
    public static NaturalScatter LearntFrom(IEnumerable<StripRecord> strips, Func<StripRecord, JudgingGround>? known = null)
    {
        var builtIn = new NaturalScatter();
        ImmutableArray<StripRecord> line = [.. strips];
        ImmutableArray<ComparedStrip> compared =
            [.. line.Select(s => new ComparedStrip(s, known?.Invoke(s) ?? JudgingGround.Of(s)))];
        // A process with memory moves less from one strip to the next than it scatters; over two strips it shows more of it.
        var (next, overnext) = (Steps(line, compared, 1), Steps(line, compared, 2));
        return new NaturalScatter(
            Math.Sqrt(Math.Max(Shrunk(builtIn.Run, next, s => s.Run), Shrunk(builtIn.Run, overnext, s => s.Run))),
            Math.Sqrt(Shrunk(builtIn.Own, next, s => s.Own)));
    }

    private static double Shrunk(double builtIn, List<(double Run, double Own)> steps, Func<(double Run, double Own), double> which)
    {
        if (steps.Count == 0)
        {
            return builtIn * builtIn;
        }

        var variances = steps.Select(which).ToList();
        // Where reading explains most of the steps, what is left of the middle one is below nothing, and then so is the bound.
        var most = Math.Max(0, Event * Event * MeanOverMedian * variances.Order().ElementAt(variances.Count / 2));
        var freedom = PriorFreedom + variances.Count;
        // The next strip is wider about what few strips tell than they are themselves: the variance of Student's distribution.
        return ((PriorFreedom * builtIn * builtIn) + variances.Sum(v => Math.Clamp(v, 0, most))) / freedom * (1 + (2 / freedom));
    }

    /// <summary>Variances that each step from one strip of a lot to a later one tells: half the square, for both strips scatter.</summary>
    private static List<(double Run, double Own)> Steps(
        ImmutableArray<StripRecord> strips, ImmutableArray<ComparedStrip> compared, int apart)
    {
        var found = new List<(double, double)>();
        for (var i = apart; i < strips.Length; i++)
        {
            if (strips[i].LotCode != strips[i - apart].LotCode)
            {
                continue;
            }

            var (before, now) = (compared[i - apart], compared[i]);
            var cells = strips[i].Means
                .Select(m => (Share: ShareOf(m.PatchKey), Then: before.Patch(m.PatchKey, m.Channel), Now: now.Patch(m.PatchKey, m.Channel)))
                .Where(c => c.Then is { Value: not null, Errors: not null } && c.Now is { Value: not null, Errors: not null })
                .Select(c => (c.Share, Step: c.Now.Value!.Value - c.Then.Value!.Value,
                    Reading: (c.Now.Errors!.OfStrip + c.Then.Errors!.OfStrip) / 2))
                .ToList();
            if (cells.Count < 3)
            {
                continue;
            }

            var squares = cells.Sum(c => c.Share * c.Share);
            var run = cells.Sum(c => c.Share * c.Step) / squares;
            var own = cells.Sum(c => Math.Pow(c.Step - (run * c.Share), 2)) / 2 / (cells.Count - 1);
            found.Add(((run * run / 2) - (own / squares), own - cells.Average(c => c.Reading)));
        }

        return found;
    }
}
