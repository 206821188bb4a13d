using Acquire.Instruments.Captures;
using Acquire.Instruments.Learning;
using Acquire.Instruments.Links;
using Acquire.Terminal;

namespace Acquire.Commands.Instruments;

/// <summary>Learning at the port: the conversation on standard error and standard input, the profile written at its end.</summary>
internal static class LiveLearnRun
{
    public static async Task<int> RunAsync(
        LiveRequest request,
        WholeFile output, string? keep, ParseResult parsed, Surroundings surroundings, CancellationToken cancellationToken)
    {
        if (request is { CanSet: false, Baud: not null })
        {
            surroundings.Error.Line($"{request.Address} passes raw bytes, so --baud sets nothing there; the rate is set at the server.");
            return ExitCode.BadInput;
        }

        using var logs = Common.Logs(parsed);
        var links = Common.Links(parsed, surroundings, logs);
        var begun = new LinkSettings { Baud = request.Baud ?? LiveRequest.FirstRate };
        using var recording = keep is null
            ? null
            : new RecordingOpener(
                links,
                () => CaptureWriter.Create(OutFile.New(keep), surroundings.Time, request.Address.ToString()!, null, LinkWords.Of(begun)));
        var desk = new LearningDesk(surroundings);
        switch (await new LiveLearning((ILinkOpener?)recording ?? links, desk, surroundings.Time).RunAsync(request, cancellationToken))
        {
            case LearningResult.Learned learned:
                await LearnedFile.WriteAsync(output, learned, surroundings, "by a reading you confirmed", cancellationToken);
                return ExitCode.Done;
            case LearningResult.Declined declined:
                surroundings.Error.Line($"No profile was written to {output.Name}:");
                foreach (var reason in declined.Reasons)
                {
                    surroundings.Error.Line($"  {reason}");
                }

                return ExitCode.BadInput;
            case var other:
                throw new InvalidOperationException($"{other} is no result of learning.");
        }
    }
}
