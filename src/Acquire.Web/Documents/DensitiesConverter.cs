using System.Text.Json;
using System.Text.Json.Serialization;

namespace Acquire.Web.Documents;

/// <summary>
/// The densities of a reading as <c>{"red":0.26,"green":0.62,"blue":0.80}</c>, with the digits that the instrument showed.
/// </summary>
internal sealed class DensitiesConverter : JsonConverter<ChannelDensities>
{
    public override ChannelDensities Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        try
        {
            return ChannelDensities.Of(
                (JsonSerializer.Deserialize<Dictionary<Channel, decimal>>(ref reader, options) ?? []).Select(
                    v => KeyValuePair.Create(v.Key, new Density(v.Value))));
        }
        catch (ImpossibleValueException impossible)
        {
            throw new JsonException(impossible.Message, impossible);
        }
    }

    public override void Write(Utf8JsonWriter writer, ChannelDensities value, JsonSerializerOptions options)
    {
        writer.WriteStartObject();
        foreach (var channel in value.Present)
        {
            writer.WriteNumber(channel.Word(), value[channel]!.Value.Value);
        }

        writer.WriteEndObject();
    }
}
