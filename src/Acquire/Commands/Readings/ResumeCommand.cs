using Acquire.Bench.Sessions;
using Acquire.Bench.Strips;
using Acquire.Bench.Trust;
using Acquire.Instruments.Links;
using Acquire.Rendering.Lots;
using Acquire.Rendering.Sessions;
using Acquire.Rendering.Strips;
using Acquire.Rendering.Trust;
using Acquire.Terminal;
using Microsoft.Extensions.Logging;

namespace Acquire.Commands.Readings;

/// <summary><c>acquire resume</c>: goes on with a session that was broken off, whatever it reads.</summary>
internal static class ResumeCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var id = new Argument<string?>("id")
        {
            Description = "The session, or enough of its end to tell it from others; the newest that was broken off when not given.",
            HelpName = "ID",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var port = Common.Port();
        port.Required = false;
        port.Description = "The instrument's port, where it is another one now.";
        var noBell = Common.NoBell();
        var giveUp = GiveUp.Option();
        var json = Common.Json();
        var command = new Command("resume", "Go on with a reading that was broken off, at the same patch and read.") { id, port, giveUp, noBell, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            using var logs = Common.Logs(parsed);
            var terms = new ResumeTerms(
                Common.NameOf(parsed), TerminalSeat.GraceFor(surroundings), GiveUp.After(parsed.GetValue(giveUp), surroundings));
            using var session = await new SessionBook(store, surroundings.Time).TakeUpAsync(
                parsed.GetValue(id), parsed.GetValue(port) is { } named ? LinkAddress.Parse(named) : null, terms, cancellationToken);
            using var seat = new TerminalSeat(surroundings, bell: !parsed.GetValue(noBell), cancellationToken);
            return await new Resumption(parsed, surroundings, store, logs, parsed.GetValue(json)).RunAsync(session, seat.Seat, cancellationToken);
        });
        return command;
    }

    /// <summary>Finishes each kind of session as the command that began it would have.</summary>
    private sealed class Resumption(ParseResult parsed, Surroundings surroundings, AcquireStore store, ILoggerFactory logs, bool json)
    {
        private readonly LinkOpener _links = Common.Links(parsed, surroundings, logs);
        private readonly ILogger _log = logs.CreateLogger<ReconnectingLink>();

        public Task<int> RunAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken) => session.Plan.Purpose switch
        {
            SessionPurpose.Strip => StripAsync(session, seat, cancellationToken),
            SessionPurpose.Reference => ReferenceAsync(session, seat, cancellationToken),
            SessionPurpose.Recheck => RecheckAsync(session, seat, cancellationToken),
            SessionPurpose.Check => CheckAsync(session, seat, cancellationToken),
            _ => RepeatabilityAsync(session, seat, cancellationToken),
        };

        private StripBench Strips() =>
            new(store, Common.Lots(parsed, store, surroundings), _links, surroundings.Time, _log);

        private async Task<int> StripAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken)
        {
            var result = await Strips().ResumeStripAsync(session, seat, cancellationToken);
            if (result.Record is not { } record || result.Judgement is not { } judgement)
            {
                return SessionReport.Incomplete(surroundings, result.Session);
            }

            SessionReport.Completed(surroundings, result.Session);
            Common.Warn(surroundings, result.Warnings);
            StripReport.Write(surroundings.Out, record, judgement, surroundings.Time, json, result.Ties, result.Context);
            return judgement.Overall == Zone.Out ? ExitCode.OutOfControl : ExitCode.Done;
        }

        private async Task<int> ReferenceAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken)
        {
            var result = await Strips().ResumeReferenceAsync(session, seat, cancellationToken);
            if (result.Reference is not { } reference)
            {
                return SessionReport.Incomplete(surroundings, result.Session);
            }

            SessionReport.Completed(surroundings, result.Session);
            var lot = (await store.FindLotAsync(reference.LotCode, cancellationToken))!;
            LotReport.WriteOne(surroundings.Out, lot, reference, result.Aims, result.Repeatability, surroundings.Time, json);
            return ExitCode.Done;
        }

        private async Task<int> RecheckAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken)
        {
            var bench = new RecheckBench(store, Common.Lots(parsed, store, surroundings), _links, surroundings.Time, _log);
            var result = await bench.ResumeAsync(session, seat, cancellationToken);
            if (result.Review is not { } review)
            {
                return SessionReport.Incomplete(surroundings, result.Session);
            }

            SessionReport.Completed(surroundings, result.Session);
            RecheckReport.Write(surroundings.Out, review, json);
            return review.Holds ? ExitCode.Done : ExitCode.OutOfControl;
        }

        private async Task<int> CheckAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken)
        {
            var bench = new CheckBench(store, new CheckBook(store, surroundings.Time), _links, surroundings.Time, _log);
            var result = await bench.ResumeAsync(session, seat, cancellationToken);
            if (result.Judged is not { } judged)
            {
                return SessionReport.Incomplete(surroundings, result.Session);
            }

            SessionReport.Completed(surroundings, result.Session);
            CheckReport.Write(surroundings.Out, judged, surroundings.Time, json);
            return judged.Check.Passed ? ExitCode.Done : ExitCode.OutOfControl;
        }

        private async Task<int> RepeatabilityAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken)
        {
            var result = await new RepeatabilityBench(store, _links, surroundings.Time, _log).ResumeAsync(session, seat, cancellationToken);
            if (result.Kept is not { Report: var report, Comparison: var comparison })
            {
                return SessionReport.Incomplete(surroundings, result.Session);
            }

            SessionReport.Completed(surroundings, result.Session);
            if (json)
            {
                JsonOutput.Write(surroundings.Out, RepeatabilityJson.Of(report, comparison));
            }
            else
            {
                RepeatabilityText.Write(surroundings.Out, report, comparison);
            }

            return report.Passes ? ExitCode.Done : ExitCode.OutOfControl;
        }
    }
}
