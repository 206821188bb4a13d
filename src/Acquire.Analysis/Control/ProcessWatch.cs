namespace Acquire.Analysis.Control;

/// <summary>All series of a process under watch together. The promise is one for the process: of sixty strips in which nothing happens, at
/// most one history in twenty tells of a movement. Each series therefore has to be so much surer of itself.</summary>
internal sealed class ProcessWatch
{
    /// <summary>Chance that is spent on movements in sixty strips of the whole process. The odds reach it less often than they may, as
    /// series move together and one looks only when something rings; set by simulation (tools/TruthBenchmark, group drift).</summary>
    private const double FalseMovements = 0.04;

    /// <summary>The same for single strips far out.</summary>
    private const double FalseStrips = 0.01;

    /// <summary>A single strip this improbable (3 sigma) is worth a second strip. Common practice.</summary>
    private const double FarOut = 0.0027;

    private readonly ImmutableArray<SeriesWatch> _series;

    // As how many the series count; reckoned once a strip, though many may ask.
    private double? _independent;

    private ProcessWatch(IEnumerable<SeriesWatch> series) => _series = [.. series];

    /// <summary>Watches series strip by strip, in the order of time.</summary>
    public static void Run(IEnumerable<SeriesWatch> series)
    {
        var watch = new ProcessWatch(series);
        var strips = watch._series.SelectMany(s => s.Entries.Select(e => (Watch: s, e.Strip)))
            .GroupBy(p => p.Strip.StripId)
            .OrderBy(g => g.First().Strip.At);
        foreach (var strip in strips)
        {
            watch._independent = null;

            // All take the strip before one is looked into, as they tell of the memory together.
            foreach (var (one, ring) in strip.Select(s => (s.Watch, Ring: s.Watch.Take())).ToList())
            {
                var alarm = ring is null ? null : watch.LookInto(one, ring);
                if ((alarm ?? one.ThreeMoves()) is { } told)
                {
                    one.Alarms.Add(told);
                }
            }
        }
    }

    private DriftAlarm? LookInto(SeriesWatch one, DriftRing ring)
    {
        var look = one.Look();
        var needed = Math.Log(_series.Length / FalseMovements);
        var (newest, value) = (one.Newest, one.Entries[one.Newest].Deviation);
        double[]? memory = null;
        if (look.HighestLogOdds > 0)
        {
            memory = MemoryBesides(one);
            var odds = look.LogOdds(memory);
            if (odds > 0)
            {
                var place = look.Place(memory);
                var alarm = new DriftAlarm(
                    ring.Kind, place.Step > 0 ? Side.High : Side.Low, newest, one.IndexOf(place.Began), one.IndexOf(place.Earliest),
                    one.IndexOf(place.Latest), place.Before, place.Before + place.Step,
                    odds > needed ? DriftWeight.Movement : DriftWeight.Notice)
                { Memory = [.. memory] };
                if (alarm.Weight == DriftWeight.Movement)
                {
                    one.BeginLevel(place.Began);
                }

                return alarm;
            }
        }

        if (ring.Kind != DetectorKind.FarPoint || one.Present.Length < 3)
        {
            return null;
        }

        var (mean, p) = look.Newest(memory ?? MemoryBesides(one));
        return p > FarOut ? null : new DriftAlarm(
            ring.Kind, value > mean ? Side.High : Side.Low, newest, newest, newest, newest, mean, value,
            p < FalseStrips / (_series.Length * CloserLook.Window) ? DriftWeight.Strip : DriftWeight.Notice);
    }

    /// <summary>What the other series say of the memory. Series that move together repeat each other, so they count as so many as are
    /// independent of each other; and half, as what is reading in one and process in another need not be alike. Judgement.</summary>
    private double[] MemoryBesides(SeriesWatch one)
    {
        var others = _series.Where(s => s != one && s.Newest >= 0).ToList();
        var share = others.Count > 0 ? Math.Max(0, (_independent ??= Resemblance.Independent(_series)) - 1) / (2 * others.Count) : 0;
        var weights = new double[StripMemory.All.Length];
        foreach (var other in share > 0 ? others : [])
        {
            foreach (var (i, log) in other.Look().Evidence.Index())
            {
                weights[i] += share * log;
            }
        }

        var sum = CloserLook.LogSum(weights);
        return [.. weights.Select(w => w - sum)];
    }
}
