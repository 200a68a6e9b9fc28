module lugworth

go 1.26
