-- The price of a kilowatt-hour, for what an enclosure costs a month.
ALTER TABLE room ADD COLUMN electricity_price REAL;
