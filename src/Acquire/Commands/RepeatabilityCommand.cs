using System.CommandLine;
using Acquire.Analysis.Gauge;
using Acquire.Bench;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;
using Acquire.Domain.Sessions;
using Acquire.Domain.Strips;
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
        var options = new RepeatabilityOptions();
        var command = new Command("repeatability", "Test how well the instrument repeats: patches read many times, placed anew in between.");
        foreach (var option in options.All)
        {
            command.Add(option);
        }

        command.Add(BuildList(surroundings));
        command.SetAction(async (parsed, cancellationToken) =>
            (parsed.GetValue(options.From), parsed.GetValue(options.Port), parsed.GetValue(options.Profile)) switch
            {
                ({ } file, null, null) => await FromFileAsync(parsed, options, file, surroundings, cancellationToken),
                (null, { } port, { } profile) => await AtInstrumentAsync(
                    parsed, options, Common.Instrument(parsed, port, profile, parsed.GetValue(options.Baud)), surroundings, cancellationToken),
                _ => throw new BenchException("Give either --port and --profile to read patches, or --from FILE with readings of them."),
            });
        return command;
    }

    private static async Task<int> FromFileAsync(
        ParseResult parsed, RepeatabilityOptions options, string file, Surroundings surroundings, CancellationToken cancellationToken)
    {
        var reads = await ReadsCsv.ReadAsync(file, cancellationToken).ToListAsync(cancellationToken);
        if (reads.FirstOrDefault(r => !r.IsDensities) is { } odd)
        {
            surroundings.Error.Line($"{odd.File}, line {odd.Line}: these numbers are no densities; they are reckoned with as they are.");
        }

        var data = TestReads.Of(reads);
        var report = RepeatabilityStudy.Of(data, RepeatabilitySpecification.Same(parsed.GetValue(options.Specification)), options.Sheet(parsed));
        return await WriteAsync(parsed, options, data, report, null, surroundings, cancellationToken);
    }

    private static async Task<int> AtInstrumentAsync(
        ParseResult parsed, RepeatabilityOptions options, InstrumentSetup instrument, Surroundings surroundings, CancellationToken cancellationToken)
    {
        var sheet = options.Sheet(parsed);
        var patches = (parsed.GetValue(options.Patches) ?? "patch").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var layout = new StripLayout("repeatability test", [.. patches.Select(p => new Patch(p, p))]);
        await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
        await UnfinishedNote.WriteAsync(surroundings, store, SessionPurpose.Repeatability, "", cancellationToken);
        using var logs = Common.Logs(parsed);
        var bench = new RepeatabilityBench(store, Common.Links(parsed, surroundings, logs), surroundings.Time);
        using var seat = new TerminalSeat(surroundings, bell: !parsed.GetValue(options.NoBell), cancellationToken);
        var request = Common.Session(parsed, "", instrument, parsed.GetValue(options.Reads), parsed.GetValue(options.By), null, surroundings);
        var result = await bench.TestAsync(
            request, layout, parsed.GetValue(options.Still), parsed.GetValue(options.Specification), seat.Seat, cancellationToken);
        if (result.Test is not { } test)
        {
            return SessionReport.Incomplete(surroundings, result.Session);
        }

        SessionReport.Completed(surroundings, result.Session);
        var data = TestReads.Of(test.Patches, test.ReadsPerPlacement);
        return await WriteAsync(
            parsed, options, data, RepeatabilityBook.ReportOf(test, sheet), result.Comparison, surroundings, cancellationToken);
    }

    private static async Task<int> WriteAsync(
        ParseResult parsed,
        RepeatabilityOptions options,
        RepeatabilityData data,
        RepeatabilityReport report,
        RepeatabilityComparison? comparison,
        Surroundings surroundings,
        CancellationToken cancellationToken)
    {
        if (parsed.GetValue(options.Json))
        {
            JsonOutput.Write(surroundings.Out, RepeatabilityJson.Of(report, comparison));
        }
        else
        {
            RepeatabilityText.Write(surroundings.Out, report, comparison);
        }

        if (parsed.GetValue(options.Html) is { } page)
        {
            await File.WriteAllTextAsync(page, RepeatabilityHtml.Of(data, report, comparison, surroundings.Time), cancellationToken);
            surroundings.Error.Line($"Report written to {page}.");
        }

        return report.Passes ? ExitCode.Done : ExitCode.OutOfControl;
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the repeatability tests.") { json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var tests = await new RepeatabilityBook(store).ListAsync(cancellationToken);
            RepeatabilityList.Write(surroundings.Out, tests, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}
