using System.CommandLine;
using Acquire.Analysis.Gauge;
using Acquire.Bench.Trust;
using Acquire.Hosting;
using Acquire.Rendering;
using Acquire.Storage.Import;
using Acquire.Terminal;

namespace Acquire.Commands;

/// <summary><c>acquire repeatability</c>: how well the instrument repeats.</summary>
internal static class RepeatabilityCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var from = new Option<string>("--from")
        {
            Description = "A CSV file of readings: patch,read,red,green,blue; visual and placement may be there too.",
            HelpName = "FILE",
            Required = true,
        };
        var specification = Specification();
        var process = Process();
        var json = Common.Json();
        var command = new Command("repeatability", "Test how well the instrument repeats: patches read many times, placed anew in between.")
        {
            from, specification, process, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var reads = new List<ImportedRead>();
            await foreach (var read in ReadsCsv.ReadAsync(parsed.GetRequiredValue(from), cancellationToken))
            {
                reads.Add(read);
            }

            if (reads.FirstOrDefault(r => !r.IsDensities) is { } odd)
            {
                surroundings.Error.Line($"{odd.File}, line {odd.Line}: these numbers are no densities; they are reckoned with as they are.");
            }

            var report = RepeatabilityStudy.Of(
                TestReads.Of(reads),
                RepeatabilitySpecification.Same(parsed.GetValue(specification)),
                parsed.GetValue(process) is { } key ? Common.Processes(parsed).Get(key) : null);
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(surroundings.Out, RepeatabilityJson.Of(report, null));
            }
            else
            {
                RepeatabilityText.Write(surroundings.Out, report, null);
            }

            return report.Passes ? ExitCode.Done : ExitCode.OutOfControl;
        });
        return command;
    }

    private static Option<double> Specification() => new("--specification")
    {
        Description = "The largest standard deviation of one re-placed read that is accepted, in density.",
        HelpName = "S",
        DefaultValueFactory = _ => RepeatabilitySpecification.Usual,
    };

    private static Option<string?> Process() => new("--process")
    {
        Description = "Hold the scatter against the limits of this process, such as c41.",
        HelpName = "KEY",
    };
}
