namespace Benchmarks;

/// <summary>What else the machine does: figures of a busy one say little about the single one.</summary>
internal static class Machine
{
    public static string Busy()
    {
        var processors = Environment.ProcessorCount;
        if (!File.Exists("/proc/loadavg"))
        {
            return string.Create(CultureInfo.InvariantCulture, $"{processors} processors; how busy they are is not known.");
        }

        var load = double.Parse(File.ReadAllText("/proc/loadavg").Split(' ')[0], CultureInfo.InvariantCulture);
        var said = load > 0.5 * processors ? "BUSY: ratios hold, times do not" : "quiet";
        return string.Create(CultureInfo.InvariantCulture, $"{processors} processors, load {load:0.0} before it began: {said}.");
    }
}
