using System.Collections.Immutable;
using System.CommandLine;
using System.Text;
using Acquire.Domain;
using Acquire.Domain.Densitometry;
using Acquire.Hosting;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Learning;
using Acquire.Terminal;

namespace Acquire.Commands;

/// <summary><c>acquire profile learn</c>: makes a profile of captured lines and what the display showed.</summary>
internal static class ProfileLearnCommand
{
    private const long LargestCapture = 4 * 1024 * 1024;

    public static Command Build(Surroundings surroundings)
    {
        var capture = new Option<string>("--capture")
        {
            Description = "What the instrument sent: raw bytes, or a text file of its lines.", HelpName = "FILE", Required = true,
        };
        var shown = new Option<string[]>("--shown")
        {
            Description = "What the display showed, such as \"0.26 0.62 0.80\"; once for each reading, in order. A word such as HI stands for over-range.",
            HelpName = "VALUES",
            Required = true,
        };
        var channels = new Option<string>("--channels")
        {
            Description = "The channels of --shown, in order.", HelpName = "ORDER", DefaultValueFactory = _ => "R G B",
        };
        var name = new Option<string?>("--name") { Description = "The profile's name; that of the file when not given.", HelpName = "NAME" };
        var output = new Option<string>("--out") { Description = "The profile to write.", HelpName = "PROFILE", Required = true };
        var command = new Command("learn", "Make a profile of captured lines and what the display showed. Writes nothing unless it proves itself.")
        {
            capture, shown, channels, name, output,
        };
        command.SetAction((parsed, cancellationToken) => LearnAsync(
            parsed.GetRequiredValue(capture), parsed.GetRequiredValue(shown), parsed.GetRequiredValue(channels), parsed.GetValue(name),
            parsed.GetRequiredValue(output), surroundings, cancellationToken));
        return command;
    }

    private static async Task<int> LearnAsync(
        string capture, string[] shown, string channels, string? name, string output, Surroundings surroundings, CancellationToken cancellationToken)
    {
        if (new FileInfo(capture) is { Exists: true, Length: > LargestCapture })
        {
            surroundings.Error.Line($"{capture} is larger than 4 MiB; expected a capture of a few readings.");
            return ExitCode.BadInput;
        }

        var order = Channels(channels);
        var input = new LearningInput(
            Received(await File.ReadAllBytesAsync(capture, cancellationToken), capture), [.. shown.Select(s => ShownReading.Parse(s, order.Length))], order, Name(name, output));
        switch (ProfileLearner.Learn(input))
        {
            case LearningResult.Learned learned:
                await WriteWholeAsync(output, learned.Json, cancellationToken);
                surroundings.Out.Line($"{output}: profile '{learned.Profile.Name}', proved by {learned.Profile.Samples.Length} samples and by the whole capture.");
                foreach (var rule in learned.Profile.Rules)
                {
                    surroundings.Out.Line($"  {rule.Template!.Text}");
                }

                return ExitCode.Done;
            case LearningResult.Declined declined:
                surroundings.Error.Line($"No profile was made of {capture}, as it might read wrong:");
                foreach (var reason in declined.Reasons)
                {
                    surroundings.Error.Line($"  {reason}");
                }

                return ExitCode.BadInput;
            case var other:
                throw new InvalidOperationException($"{other} is no result of learning.");
        }
    }

    private static ImmutableArray<Channel> Channels(string text)
    {
        ImmutableArray<Channel> order = [.. text.Split((char[])[' ', ','], StringSplitOptions.RemoveEmptyEntries).Select(Channel)];
        return order.IsEmpty || order.Distinct().Count() < order.Length
            ? throw new ImpossibleValueException($"'{text}' is no order of channels; expected each channel once, such as \"R G B\" or \"V R G B\".")
            : order;
    }

    private static Channel Channel(string word) => Domain.Densitometry.Channels.Parse(word);

    /// <summary>The name as profiles allow it; from the file's when none was given.</summary>
    private static string Name(string? name, string output)
    {
        var text = new StringBuilder();
        foreach (var c in (name ?? Path.GetFileNameWithoutExtension(output)).ToLowerInvariant())
        {
            var last = text.Length > 0 ? text[^1] : '-';
            _ = char.IsAsciiLetterOrDigit(c) ? text.Append(c) : last == '-' ? text : text.Append('-');
        }

        var made = text.ToString(0, Math.Min(text.Length, 40)).Trim('-');
        return name is not null && made != name
            ? throw new ImpossibleValueException($"'{name}' is no name for a profile; expected lower-case letters, digits and single hyphens, 40 at most.")
            : made.Length > 0 ? made : "learned";
    }

    /// <summary>Writes beside the file and moves into place, so that an older one is never lost half-way.</summary>
    private static async Task WriteWholeAsync(string path, string text, CancellationToken cancellationToken)
    {
        var beside = $"{path}.{Guid.NewGuid():N}.tmp";
        try
        {
            await File.WriteAllTextAsync(beside, text, cancellationToken);
            File.Move(beside, path, overwrite: true);
        }
        finally
        {
            File.Delete(beside);
        }
    }

    /// <summary>The bytes as they were received: a capture with times holds them in chunks, any other file is they.</summary>
    private static byte[] Received(byte[] content, string file) => CaptureReader.Read(content, file) is { Kind: CaptureKind.Timed } capture
        ? [.. capture.Chunks.SelectMany(c => c.Bytes)]
        : content;
}
