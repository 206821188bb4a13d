using Acquire.Bench.Sessions;

namespace Acquire.Demo;

/// <summary>Shows a guided reading in short: a line a patch.</summary>
internal sealed class DemoDisplay(IAnsiConsole console) : IBenchDisplay
{
    private readonly List<ChannelDensities> _reads = [];

    /// <inheritdoc/>
    public void Show(BenchUpdate update)
    {
        switch (update)
        {
            case BenchUpdate.Accepted { Target: var target, Reading: var reading }:
                _reads.Add(reading.Densities);
                if (target.Read == target.Of)
                {
                    console.Line($"  {target.Patch.Name,-7} {string.Join(" | ", _reads)}");
                    _reads.Clear();
                }

                break;
            case BenchUpdate.Attention { Message: var message }:
                console.Line($"  ? {message}");
                break;
            case BenchUpdate.Question { Text: var text }:
                console.Line($"  ? {text}");
                break;
            default:
                break;
        }
    }
}
