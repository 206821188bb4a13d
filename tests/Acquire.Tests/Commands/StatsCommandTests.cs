using System.Text.Json;

namespace Acquire.Tests.Commands;

public sealed class StatsCommandTests : IDisposable
{
    private readonly InMemory _program = new() { BeginsWithStore = false };

    public void Dispose() => _program.Dispose();

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 6.3.2.2, flow rate of 10 batches")]
    public async Task Individuals_of_the_handbook_come_out()
    {
        var json = await StudyAsync("value", [.. "49.6 47.6 49.9 51.3 47.8 51.2 52.6 52.4 53.6 52.1".Split(' ')]);

        Assert.Equal(10, json.GetProperty("summary").GetProperty("n").GetInt32());
        Assert.Equal(50.81, json.GetProperty("individuals").GetProperty("centre").GetDouble(), 1e-9);
        Assert.Equal(55.8024, json.GetProperty("individuals").GetProperty("upper").GetDouble(), 1e-4);
        Assert.Empty(json.GetProperty("rules").GetProperty("nelson").EnumerateArray());
    }

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 6.3.2.3, k 0.3175, h 4.1959")]
    public async Task Sums_of_the_handbook_come_out()
    {
        var json = await StudyAsync(
            "value",
            [.. ("324.925 324.675 324.725 324.350 325.350 325.225 324.125 324.525 325.225 324.600 324.625 325.150 328.325 327.250 "
                + "327.825 328.500 326.675 327.775 326.875 328.350").Split(' ')],
            "--target", "325", "--allowance", "0.3175", "--decision", "4.1959");

        var points = json.GetProperty("cusum").GetProperty("points").EnumerateArray().ToList();
        Assert.Equal(14, points.FindIndex(p => p.GetProperty("signal").ValueKind == JsonValueKind.String) + 1);
        Assert.Equal(13, points[13].GetProperty("began").GetInt32());
        Assert.Equal(13, json.GetProperty("changePoint").GetProperty("index").GetInt32());
    }

    [Fact]
    [Trait("Source", "NIST Statistical Reference Datasets, analysis of variance, SiRstv, certified values")]
    public async Task Groups_of_the_reference_set_come_out()
    {
        string[] rows =
        [
            .. "1,196.3052 1,196.1240 1,196.1890 1,196.2569 1,196.3403 2,196.3042 2,196.3825 2,196.1669 2,196.3257 2,196.0422".Split(' '),
            .. "3,196.1303 3,196.2005 3,196.2889 3,196.0343 3,196.1811 4,196.2795 4,196.1748 4,196.1494 4,196.1485 4,195.9885".Split(' '),
            .. "5,196.2119 5,196.1051 5,196.1850 5,196.0052 5,196.2090".Split(' '),
        ];
        var variance = (await StudyAsync("group,value", rows)).GetProperty("analysisOfVariance");

        Assert.Equal(5.11462616000000E-02, variance.GetProperty("between").GetProperty("sumOfSquares").GetDouble(), 1e-13);
        Assert.Equal(2.16636560000000E-01, variance.GetProperty("within").GetProperty("sumOfSquares").GetDouble(), 1e-13);
        Assert.Equal(1.18046237440255, variance.GetProperty("f").GetDouble(), 1e-10);
        Assert.Equal(0.190999039051129, variance.GetProperty("rSquared").GetDouble(), 1e-12);
        Assert.Equal(0.104076068334656, variance.GetProperty("residualDeviation").GetDouble(), 1e-12);
    }

    [Fact]
    [Trait("Source", "The normal equations by hand: x 0, 1, 2, 3 and y 1, 3, 4, 8 give slope 2.2, intercept 0.7")]
    public async Task Line_by_hand_comes_out_from_a_file_with_semicolons_and_decimal_commas()
    {
        var line = (await StudyAsync("X;Value;note", ["0,0;1,0;a", "1;3;b", "2;4;c", "3;8;d"])).GetProperty("regression");

        Assert.Equal(
            (2.2, 0.7), (Math.Round(line.GetProperty("slope").GetDouble(), 12), Math.Round(line.GetProperty("intercept").GetDouble(), 12)));
    }

    [Fact]
    public async Task One_value_and_equal_values_give_a_limited_answer()
    {
        var one = await StudyAsync("value", ["0.5"]);
        var equal = await StudyAsync("value", ["0.5", "0.5", "0.5"]);

        Assert.Equal(JsonValueKind.Null, one.GetProperty("individuals").ValueKind);
        Assert.Equal(0, equal.GetProperty("individuals").GetProperty("sigma").GetDouble());
        Assert.Equal(JsonValueKind.Null, equal.GetProperty("changePoint").ValueKind);
        Assert.Empty(equal.GetProperty("ewma").GetProperty("points").EnumerateArray());
    }

    [Theory]
    [InlineData("value,group", "1,a", "1,a", "2,b", "2,b")]
    [InlineData("value,group", "1,a", "1,a", "1,b", "1,b")]
    [InlineData("value,x", "1,1", "1,2", "1,3", "1,4")]
    [InlineData("value,x", "1,1", "2,2", "3,3", "4,4")]
    [InlineData("value,x", "1e100,1e-300", "-1e100,2e-300", "1e99,3e-300", "1e-300,1e100")]
    public async Task Json_holds_finite_numbers_where_nothing_scatters_and_at_the_ends_of_the_scale(string heading, params string[] rows)
    {
        var (code, output, error) = await _program.RunAsync("stats", "--json", "--from", await FileAsync(heading, rows));

        Assert.True(code == 0, error);
        Assert.All(JsonNumbers.Of(JsonDocument.Parse(output).RootElement), n => Assert.True(double.IsFinite(n)));
        Assert.Equal(0, (await _program.RunAsync("stats", "--from", await FileAsync(heading, rows))).Code);
    }

    [Theory]
    [InlineData("value", "0,26", "line 2: the row has 2 cells, the heading 1")]
    [InlineData("value", "1e308", "line 2, column 1: value is '1e308', beyond")]
    [InlineData("value,x", "1,2,3", "line 2: the row has 3 cells, the heading 2")]
    [InlineData("value", "x", "line 2, column 1: value is 'x'")]
    [InlineData("value", "NaN", "line 2, column 1: value is 'NaN'")]
    [InlineData("values", "1", "lacks value")]
    [InlineData("value", "", "holds no value")]
    [InlineData("value,x", "1,", "line 2, column 2: x is empty")]
    public async Task Bad_file_is_refused_with_its_line(string heading, string row, string said)
    {
        var (code, output, error) = await _program.RunAsync("stats", "--from", await FileAsync(heading, [row]));

        Assert.Equal((2, ""), (code, output));
        Assert.Contains(said, error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Impossible_design_is_refused()
    {
        var file = await FileAsync("value", ["1", "2", "3"]);

        Assert.Contains(
            "baseline of 9", (await _program.RunAsync("stats", "--from", file, "--baseline", "9")).Error, StringComparison.Ordinal);
        Assert.Equal(2, (await _program.RunAsync("stats", "--from", file, "--lambda", "0")).Code);
    }

    [Fact]
    public async Task Text_says_what_the_json_carries()
    {
        var file = await FileAsync("value,group", [.. Enumerable.Range(0, 20)
            .Select(i => string.Create(CultureInfo.InvariantCulture, $"{(i * 7 % 5) + (i > 11 ? 9 : 0)},g{i % 2}"))]);
        var (code, output, _) = await _program.RunAsync("stats", "--from", file);

        Assert.Equal(0, code);
        Assert.Contains("Most probable step", output, StringComparison.Ordinal);
        Assert.Contains("past its limit at", output, StringComparison.Ordinal);
        Assert.Contains("Between groups", output, StringComparison.Ordinal);
    }

    [Fact]
    [Trait("Source", "F. A. Graybill and H. K. Iyer, Regression Analysis, 1994, p. 431, thermostat: 100 is reached at 100.11 (99.63, "
        + "100.59) "
        + "with 90 %; digits recomputed")]
    public async Task Line_is_asked_for_predictions_and_where_it_reaches_a_value()
    {
        string[] rows = ["96,95.71", "98,98.16", "100,99.52", "102,102.09", "104,103.79", "106,106.18", "108,108.14", "110,110.21"];
        var json = await StudyAsync("x,value", rows, "--reach", "100", "--at", "103", "--at", "120", "--confidence", "0.9");

        var single = json.GetProperty("reaches")[0].GetProperty("single");
        Assert.Equal(99.629403, single.GetProperty("lower").GetDouble(), 1e-6);
        Assert.Equal(100.588503, single.GetProperty("upper").GetDouble(), 1e-6);
        // At the mean of x the line is the mean of y, its error s/√n.
        var (middle, s) = (json.GetProperty("predictions")[0], json.GetProperty("regression").GetProperty("residualDeviation").GetDouble());
        Assert.Equal(102.975, middle.GetProperty("value").GetDouble(), 1e-9);
        Assert.Equal(s / Math.Sqrt(8), middle.GetProperty("meanError").GetDouble(), 1e-9);
        Assert.Equal(s * Math.Sqrt(9 / 8.0), middle.GetProperty("singleError").GetDouble(), 1e-9);
        Assert.True(json.GetProperty("predictions")[1].GetProperty("isBeyond").GetBoolean());
        Assert.Equal(2, json.GetProperty("covarianceOfCoefficients").GetArrayLength());

        var text = (await _program.RunAsync("stats", "--from", await FileAsync("x,value", rows), "--reach", "100", "--at", "120")).Out;
        Assert.Contains("100 is reached at x = 100.112", text, StringComparison.Ordinal);
        Assert.Contains("beyond the points, only if the line goes on like this", text, StringComparison.Ordinal);
        Assert.Contains("by s / c4", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Prediction_without_a_line_is_refused()
    {
        var (code, output, error) = await _program.RunAsync("stats", "--from", await FileAsync("value", ["1", "2", "3"]), "--at", "4");

        Assert.Equal((2, ""), (code, output));
        Assert.Contains("give every value an x", error, StringComparison.Ordinal);
    }

    private async Task<JsonElement> StudyAsync(string heading, string[] rows, params string[] options) =>
        await _program.JsonAsync(["stats", "--from", await FileAsync(heading, rows), .. options]);

    private async Task<string> FileAsync(string heading, IEnumerable<string> rows)
    {
        var file = Path.Combine(_program.Folder, "series.csv");
        await File.WriteAllLinesAsync(file, [heading, .. rows], TestContext.Current.CancellationToken);
        return file;
    }
}
