using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using Acquire.Instruments.Lines;

namespace Acquire.Rendering.Monitoring;

/// <summary>
/// One line of an instrument as one line of JSON. The names are a contract; new ones may be added. Densities keep the decimals shown.
/// </summary>
internal static class EventJson
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static string Of(InstrumentEvent received)
    {
        var densities = DensitiesOf(received);
        return JsonSerializer.Serialize(
            new EventObject(
                densities?.Red?.Value, densities?.Green?.Value, densities?.Blue?.Value, densities?.Visual?.Value, received.Meaning.State())
            {
                Channels = (received as InstrumentEvent.BeyondRange)?.Channels.Select(c => c.Word()),
                Line = received.Meaning == LineMeaning.Reading ? null : received.Line.Text,
                Reason = (received as InstrumentEvent.UnmatchedLine)?.Reason,
                Note = received.Note,
            },
            Options);
    }

    private static ChannelDensities? DensitiesOf(InstrumentEvent received) => received switch
    {
        InstrumentEvent.ReadingTaken { Reading: var reading } => reading.Densities,
        InstrumentEvent.ChannelTaken { Channel: var channel, Density: var density } => ChannelDensities.Of([new(channel, density)]),
        _ => null,
    };

    private sealed record EventObject(decimal? Red, decimal? Green, decimal? Blue, decimal? Visual, string State)
    {
        [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
        public IEnumerable<string>? Channels { get; init; }

        [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
        public string? Line { get; init; }

        [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
        public string? Reason { get; init; }

        [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
        public string? Note { get; init; }
    }
}
