using System.Text.Encodings.Web;
using System.Text.Json;

namespace Acquire.Bench.Sessions;

/// <summary>The user's decisions as the journal has them, such as <c>{"do":"leave_out_read","reason":"dust"}</c>.</summary>
internal static class DecisionJson
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        RespectRequiredConstructorParameters = true,
        RespectNullableAnnotations = true,
    };

    public static string Of(BenchCommand decision) => JsonSerializer.Serialize(decision, Options);

    /// <exception cref="BenchException">This version knows no such decision, so the session cannot be rebuilt by it.</exception>
    public static BenchCommand Parse(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<BenchCommand>(json, Options) ?? throw Unknown(json, null);
        }
        catch (Exception e) when (e is JsonException or NotSupportedException)
        {
            throw Unknown(json, e);
        }
    }

    private static BenchException Unknown(string json, Exception? inner) => new(
        $"The session's journal has a decision that this version of the program does not know: {json}. Go on with the version that wrote it.", inner);
}
