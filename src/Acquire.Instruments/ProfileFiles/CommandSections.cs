using System.Text.Json;
using Acquire.Formats.Json;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>Reads the commands of a profile and checks what a schema cannot say of them.</summary>
internal static class CommandSections
{
    private const string Place = "/commands";
    private const int MostBytes = 256;
    private static readonly TimeSpan TriggerWithin = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan IdentifyWithin = TimeSpan.FromSeconds(2);

    /// <summary>The commands; those that cannot be read are left out and go to <paramref name="errors"/>.</summary>
    public static ProfileCommands Read(JsonElement root, LinkSettings link, JsonFile errors)
    {
        if (!root.TryGetProperty("commands", out var section))
        {
            return ProfileCommands.None;
        }

        var commands = new ProfileCommands
        {
            AfterOpening = section.Get("afterOpening", e => Opening(e, errors), []),
            Trigger = section.Get("trigger", e => Trigger(e, errors), null),
            Identify = section.Get("identify", e => Identify(e, errors), null),
        };
        Check(commands, link, errors);
        return commands;
    }

    private static ImmutableArray<OpeningCommand> Opening(JsonElement list, JsonFile errors) =>
    [
        .. from item in list.EnumerateArray().Index()
           let bytes = Bytes(item.Item, FormattableString.Invariant($"{Place}/afterOpening/{item.Index}"), errors)
           where bytes is not null
           select new OpeningCommand(bytes.Value, item.Item.Get("thenWaitMs", ProfileSections.Milliseconds, TimeSpan.Zero)),
    ];

    private static TriggerCommand? Trigger(JsonElement e, JsonFile errors) =>
        Bytes(e, $"{Place}/trigger", errors) is { } bytes
            ? new TriggerCommand(bytes, e.Get("withinMs", ProfileSections.Milliseconds, TriggerWithin))
            : null;

    private static IdentifyCommand? Identify(JsonElement e, JsonFile errors)
    {
        var bytes = Bytes(e, $"{Place}/identify", errors);
        try
        {
            var answer = LineTemplate.ParseAnswer(e.GetProperty("answer").GetString()!);
            return bytes is null
                ? null
                : new IdentifyCommand(bytes.Value, answer, e.Get("withinMs", ProfileSections.Milliseconds, IdentifyWithin));
        }
        catch (TemplateException wrong)
        {
            errors.Add($"{Place}/identify/answer", wrong.Message);
            return null;
        }
    }

    private static ImmutableArray<byte>? Bytes(JsonElement command, string pointer, JsonFile errors)
    {
        try
        {
            var bytes = ByteText.Parse(command.GetProperty("send").GetString()!);
            if (bytes.Length <= MostBytes)
            {
                return bytes;
            }

            errors.Add($"{pointer}/send", FormattableString.Invariant($"It has {bytes.Length} bytes; expected {MostBytes} at most."));
        }
        catch (FormatException wrong)
        {
            errors.Add($"{pointer}/send", wrong.Message);
        }

        return null;
    }

    private static void Check(ProfileCommands commands, LinkSettings link, JsonFile errors)
    {
        foreach (var (place, bytes) in commands.All)
        {
            var pointer = $"{Place}/{place}/send";
            if (link.DataBits == 7 && bytes.Any(b => b > 0x7F))
            {
                errors.Add(pointer, "A byte above 0x7F cannot be sent with seven data bits.");
            }

            if (link.Handshake == Handshake.XonXoff && bytes.Any(b => b is 0x11 or 0x13))
            {
                errors.Add(pointer, "DC1 and DC3 would be taken for the flow control (xon-xoff) that the link has.");
            }
        }

        if (commands is { Trigger.Bytes: var trigger, Identify.Bytes: var identify } && trigger.AsSpan().SequenceEqual(identify.AsSpan()))
        {
            errors.Add($"{Place}/identify/send", "The trigger is the same bytes, so that to ask would read; expected others.");
        }
    }
}
